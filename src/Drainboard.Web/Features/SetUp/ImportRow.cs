using System.Globalization;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Hosting;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.SetUp;

/// <summary>One row, read column by column. What cannot be read becomes a fault and a harmless value; the import then saves nothing.</summary>
internal sealed class ImportRow(string file, int number, IReadOnlyDictionary<string, string> values, List<ImportFault> faults)
{
    public void Fault(string? column, string words) => faults.Add(new ImportFault(file, number, column, words));

    /// <summary>Whether the file has this column at all; an absent one leaves what is stored.</summary>
    public bool Has(string column) => values.ContainsKey(column);

    public string Text(string column, int longest = 200)
    {
        var text = (values.TryGetValue(column, out var value) ? value : "").Trim();
        if (text.Length > longest)
        {
            Fault(column, $"Has {text.Length} characters; {longest} fit.");
            return "";
        }

        return text;
    }

    public string Needed(string column, int longest = 200)
    {
        var text = Text(column, longest);
        if (text.Length == 0)
        {
            Fault(column, "Is empty. Fill it in.");
        }

        return text;
    }

    public IReadOnlyList<string> Many(string column) => Text(column, 2000).Split([';', '|'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

    public int? Number(string column, int from, int to)
    {
        var text = Text(column);
        if (text.Length == 0)
        {
            return null;
        }

        if (int.TryParse(text, NumberStyles.Integer, CultureInfo.InvariantCulture, out var number) && number >= from && number <= to)
        {
            return number;
        }

        Fault(column, $"\"{text}\" is not a whole number from {from} to {to}.");
        return null;
    }

    public int NumberNeeded(string column, int from, int to)
    {
        Needed(column);
        return Number(column, from, to) ?? from;
    }

    public bool YesNo(string column, bool otherwise)
    {
        switch (Text(column).ToLowerInvariant())
        {
            case "":
                return otherwise;
            case "yes" or "true" or "1":
                return true;
            case "no" or "false" or "0":
                return false;
            default:
                Fault(column, $"\"{Text(column)}\" is neither yes nor no.");
                return otherwise;
        }
    }

    public TEnum? Choice<TEnum>(string column)
        where TEnum : struct, Enum => Text(column) is { Length: > 0 } text ? Choice<TEnum>(column, text) : null;

    public TEnum? Choice<TEnum>(string column, string text)
        where TEnum : struct, Enum
    {
        if (text.All(char.IsAsciiLetter) && Enum.TryParse<TEnum>(text, ignoreCase: true, out var value))
        {
            return value;
        }

        Fault(column, $"\"{text}\" is not one of: {string.Join(", ", Enum.GetNames<TEnum>().Select(JsonName))}.");
        return null;
    }

    public Instant? At(string column)
    {
        var text = Text(column);
        if (text.Length == 0)
        {
            return null;
        }

        if (InstantAnyOffset.TryParse(text, out var at))
        {
            return at;
        }

        Fault(column, $"\"{text}\" is not a time with its offset: write it as 2026-01-26T10:00:00Z or 2026-01-26T10:00+09:00.");
        return null;
    }

    public Instant AtNeeded(string column)
    {
        Needed(column);
        return At(column) ?? Instant.FromUnixTimeSeconds(0);
    }

    public LocalTime Time(string column)
    {
        var text = Text(column);
        if (text.Length == 0)
        {
            return LocalTime.Midnight;
        }

        var parsed = LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(text);
        if (!parsed.Success)
        {
            Fault(column, $"\"{text}\" is not a time of day: write it as 06:30.");
        }

        return parsed.Success ? parsed.Value : LocalTime.Midnight;
    }

    public LocalDate? Day(string column)
    {
        var text = Text(column);
        if (text.Length == 0)
        {
            return null;
        }

        var parsed = LocalDatePattern.Iso.Parse(text);
        if (parsed.Success)
        {
            return parsed.Value;
        }

        Fault(column, $"\"{text}\" is not a date: write it as 2027-03-31.");
        return null;
    }

    public StationCode? Station(string column)
    {
        if (StationCode.TryParse(Needed(column), out var code))
        {
            return code;
        }

        Fault(column, $"\"{Text(column)}\" is not a station code: four letters.");
        return null;
    }

    public Registration? Mark(string column)
    {
        if (Registration.TryParse(Needed(column), out var mark))
        {
            return mark;
        }

        Fault(column, $"\"{Text(column)}\" is not a registration: 2 to 10 letters and digits, at most one hyphen inside.");
        return null;
    }

    public Position? Place(string column)
    {
        if (Position.TryParse(Needed(column), out var position))
        {
            return position;
        }

        Fault(column, $"\"{Text(column)}\" is not a position code: up to 12 letters, digits and hyphens.");
        return null;
    }

    private static string JsonName(string name) => char.ToLowerInvariant(name[0]) + name[1..];
}
