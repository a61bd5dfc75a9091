using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>When a station's people are there, day by day in its zone; from and to alike mean round the clock.</summary>
public static class StaffedHours
{
    /// <summary>The longest staffed stretch inside a window; start and end are alike where there is none.</summary>
    public static (Instant From, Instant To) Longest(Station station, DateTimeZone zone, Instant from, Instant to)
    {
        if (to <= from || station.StaffedFrom == station.StaffedTo)
        {
            return (from, Instant.Max(from, to));
        }

        var best = (From: from, To: from);
        var last = to.InZone(zone).Date;
        for (var day = from.InZone(zone).Date.PlusDays(-1); day <= last; day = day.PlusDays(1))
        {
            var opens = (day + station.StaffedFrom).InZoneLeniently(zone).ToInstant();
            var closes = ((station.StaffedTo > station.StaffedFrom ? day : day.PlusDays(1)) + station.StaffedTo).InZoneLeniently(zone).ToInstant();
            var (starts, ends) = (Instant.Max(opens, from), Instant.Min(closes, to));
            if (ends - starts > best.To - best.From)
            {
                best = (starts, ends);
            }
        }

        return best;
    }
}
