using System.Globalization;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Shell;

/// <summary>Instants and durations as people read them: station local first, UTC beside it.</summary>
public static class Times
{
    private static readonly ZonedDateTimePattern Clock = ZonedDateTimePattern.CreateWithInvariantCulture("HH:mm", null);
    private static readonly ZonedDateTimePattern Day = ZonedDateTimePattern.CreateWithInvariantCulture("ddd d MMM", null);
    private static readonly ZonedDateTimePattern Date = ZonedDateTimePattern.CreateWithInvariantCulture("d MMM uuuu", null);
    private static readonly LocalDateTimePattern Input = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");

    public static DateTimeZone Zone(string id) => DateTimeZoneProviders.Tzdb.GetZoneOrNull(id) ?? DateTimeZone.Utc;

    /// <summary>"22:20" in a zone.</summary>
    public static string At(Instant at, string zone) => Clock.Format(at.InZone(Zone(zone)));

    /// <summary>"22:20", with the day before it when it is not today there.</summary>
    public static string Near(Instant at, string zone, Instant now)
    {
        var local = at.InZone(Zone(zone));
        return local.Date == now.InZone(Zone(zone)).Date ? Clock.Format(local) : $"{Day.Format(local)} {Clock.Format(local)}";
    }

    public static string Utc(Instant at) => $"{Clock.Format(at.InUtc())}Z {Day.Format(at.InUtc())}";

    /// <summary>"25 Nov 2026", the day in UTC: of what may be years ago.</summary>
    public static string Dated(Instant at) => Date.Format(at.InUtc());

    /// <summary>"Wed 25 Nov 21:42 local, 22:42Z".</summary>
    public static string Full(Instant at, string zone)
    {
        var local = at.InZone(Zone(zone));
        return $"{Day.Format(local)} {Clock.Format(local)} local, {Clock.Format(at.InUtc())}Z";
    }

    /// <summary>"6 d 1 h", "9 h 18 min", "12 min"; two units, rounded down, so that no one is told more time than there is.</summary>
    public static string Left(Duration left)
    {
        var size = left < Duration.Zero ? -left : left;
        var words = size switch
        {
            { Days: >= 1 } => $"{size.Days} d {size.Hours} h",
            { Hours: >= 1 } => $"{size.Hours} h {size.Minutes} min",
            _ => $"{size.Minutes} min",
        };
        return left < Duration.Zero ? $"{words} ago" : words;
    }

    public static string ForInput(Instant at, string zone) => Input.Format(at.InZone(Zone(zone)).LocalDateTime);

    /// <summary>Reads a local time as entered; where clocks are set back the earlier of the two is meant, where the time was skipped the next one that exists.</summary>
    public static Instant? FromInput(string? text, string zone)
    {
        var parsed = Input.Parse((text ?? "").Trim() is { Length: > 16 } longer ? longer[..16] : (text ?? "").Trim());
        return parsed.Success ? parsed.Value.InZoneLeniently(Zone(zone)).ToInstant() : null;
    }

    public static string Number(int count) => count switch
    {
        0 => "no", 1 => "one", 2 => "two", 3 => "three", 4 => "four", 5 => "five", 6 => "six", 7 => "seven", 8 => "eight", 9 => "nine", 10 => "ten", 11 => "eleven", 12 => "twelve",
        _ => count.ToString(CultureInfo.InvariantCulture),
    };

    public static string Capital(string words) => words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];

    /// <summary>The whole local hours between two instants.</summary>
    public static IEnumerable<Instant> Hours(Instant from, Instant to, string zone)
    {
        var local = DateTimeZoneProviders.Tzdb[zone];
        for (var hour = from.InZone(local).LocalDateTime.With(TimeAdjusters.TruncateToHour).PlusHours(1).InZoneLeniently(local).ToInstant(); hour < to; hour += Duration.FromHours(1))
        {
            yield return hour;
        }
    }
}
