namespace Drainboard.Domain.Fleet;

/// <summary>A station's four-letter code, upper case A to Z. Equality is ordinal; the default value is no station.</summary>
public readonly record struct StationCode
{
    private StationCode(string value) => Value = value;

    public string Value { get => field ?? ""; }

    public static bool TryParse(string? text, out StationCode code)
    {
        var trimmed = (text ?? "").Trim().ToUpperInvariant();
        code = trimmed.Length == 4 && trimmed.All(char.IsAsciiLetterUpper) ? new StationCode(trimmed) : default;
        return code != default;
    }

    /// <exception cref="FormatException">The text is not four letters.</exception>
    public static StationCode Parse(string text) =>
        TryParse(text, out var code) ? code : throw new FormatException($"\"{text}\" is not a station code: four letters A to Z.");

    public override string ToString() => Value;
}
