using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>When a station's people are there, day by day in its zone; from and to alike mean round the clock.</summary>
public static class StaffedHours
{
    /// <summary>The staffed stretches inside a window, in order; none where the window is empty or nobody is there.</summary>
    public static (Instant From, Instant To)[] Inside(Station station, DateTimeZone zone, Instant from, Instant to)
    {
        if (to <= from)
        {
            return [];
        }

        if (station.StaffedFrom == station.StaffedTo)
        {
            return [(from, to)];
        }

        var stretches = new List<(Instant, Instant)>();
        var last = to.InZone(zone).Date;
        for (var day = from.InZone(zone).Date.PlusDays(-1); day <= last; day = day.PlusDays(1))
        {
            var opens = (day + station.StaffedFrom).InZoneLeniently(zone).ToInstant();
            var closes = ((station.StaffedTo > station.StaffedFrom ? day : day.PlusDays(1)) + station.StaffedTo).InZoneLeniently(zone).ToInstant();
            var (starts, ends) = (Instant.Max(opens, from), Instant.Min(closes, to));
            if (starts < ends)
            {
                stretches.Add((starts, ends));
            }
        }

        return [.. stretches];
    }
}
