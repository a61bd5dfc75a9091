using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// Whole calendar days in a zone, in closed form and without allocating. Days are dates: one that daylight saving makes 23 or 25
/// hours long is one day, and a date that a zone skipped altogether (the date line moved) still counts, as it does on paper.
/// </summary>
public static class CalendarDays
{
    /// <summary>No zone's clocks were ever further from UTC than this.</summary>
    private static readonly Duration FurthestOffset = Duration.FromHours(18);

    /// <summary>
    /// The first instant at which a zone's clocks show this date or a later one: its midnight; where clocks jump over that midnight the
    /// instant of the jump; where the whole date is skipped the start of the next; where midnight comes twice the first of them.
    /// </summary>
    public static Instant StartOf(DateTimeZone zone, LocalDate day)
    {
        var wall = day.AtMidnight().InUtc().ToInstant();
        var interval = zone.GetZoneInterval(wall - FurthestOffset);
        while (true)
        {
            var reaches = wall - Duration.FromSeconds(interval.WallOffset.Seconds);
            var at = interval.HasStart && reaches < interval.Start ? interval.Start : reaches;
            if (!interval.HasEnd || at < interval.End)
            {
                return at;
            }

            interval = zone.GetZoneInterval(interval.End);
        }
    }

    /// <summary>The clock of so many whole days after a recorded time: when it starts and the first instant at which it has lapsed.</summary>
    /// <param name="excludesFirstDay">Whether the day of the entry is day zero and does not count.</param>
    public static ClockTimes Count(Instant recordedAt, DateTimeZone zone, int days, bool excludesFirstDay, CalendarStart start)
    {
        var first = FirstDay(recordedAt, zone, excludesFirstDay);
        var starts = StartOf(zone, first);
        return new ClockTimes(start == CalendarStart.OneMinutePast ? starts + Duration.FromMinutes(1) : starts, StartOf(zone, first.PlusDays(days)));
    }

    public static LocalDate FirstDay(Instant recordedAt, DateTimeZone zone, bool excludesFirstDay)
    {
        var day = recordedAt.InZone(zone).Date;
        return excludesFirstDay ? day.PlusDays(1) : day;
    }
}
