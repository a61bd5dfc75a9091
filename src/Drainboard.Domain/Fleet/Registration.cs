namespace Drainboard.Domain.Fleet;

/// <summary>
/// An aircraft's registration mark as painted: 2 to 10 capital letters, digits and at most one hyphen inside. Equality is
/// ordinal. A mark can change in an aircraft's life; <see cref="TailId"/> does not.
/// </summary>
public readonly record struct Registration
{
    private Registration(string value) => Value = value;

    public string Value { get => field ?? ""; }

    public static bool TryParse(string? text, out Registration mark)
    {
        var trimmed = (text ?? "").Trim().ToUpperInvariant();
        var lawful = trimmed.Length is >= 2 and <= 10
            && trimmed.All(c => char.IsAsciiLetterUpper(c) || char.IsAsciiDigit(c) || c == '-')
            && trimmed.Count(c => c == '-') <= 1
            && trimmed[0] != '-' && trimmed[^1] != '-';
        mark = lawful ? new Registration(trimmed) : default;
        return lawful;
    }

    /// <exception cref="FormatException">The text is not a registration mark.</exception>
    public static Registration Parse(string text) =>
        TryParse(text, out var mark) ? mark : throw new FormatException($"\"{text}\" is not a registration: 2 to 10 letters and digits, at most one hyphen inside.");

    public override string ToString() => Value;
}
