namespace Drainboard.Domain.Fleet;

/// <summary>
/// The position code of a fixture on board, unique within a layout and kept when the layout gets a new version: 1 to 12
/// capital letters, digits and hyphens. Equality is ordinal.
/// </summary>
public readonly record struct Position
{
    private Position(string value) => Value = value;

    public string Value { get => field ?? ""; }

    public static bool TryParse(string? text, out Position position)
    {
        var trimmed = (text ?? "").Trim().ToUpperInvariant();
        var lawful = trimmed.Length is >= 1 and <= 12 && trimmed.All(c => char.IsAsciiLetterUpper(c) || char.IsAsciiDigit(c) || c == '-');
        position = lawful ? new Position(trimmed) : default;
        return lawful;
    }

    /// <exception cref="FormatException">The text is not a position code.</exception>
    public static Position Parse(string text) =>
        TryParse(text, out var position) ? position : throw new FormatException($"\"{text}\" is not a position code: up to 12 letters, digits and hyphens.");

    public override string ToString() => Value;
}
