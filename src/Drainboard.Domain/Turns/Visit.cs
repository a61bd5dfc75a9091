using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>
/// One stay of a tail as a chance to work on it: what the station can do, and the stretches in which its people are there and the cabin can
/// be reached. The first ten minutes of a stay (doors, deplaning) and the last twelve (boarding, paperwork) are not usable; common
/// practice, no source.
/// </summary>
public sealed record Visit(StationCode Station, Ability Abilities, Instant ArrivesAt, Instant DepartsAt, IReadOnlyList<(Instant From, Instant To)> Workable)
{
    private static readonly Duration Deplaning = Duration.FromMinutes(10);
    private static readonly Duration Boarding = Duration.FromMinutes(12);

    /// <param name="now">A stay that is past its estimate and not over lasts at least until now.</param>
    public static Visit Of(Turn turn, Station station, DateTimeZone zone, Instant now)
    {
        var departs = turn.IsOverdue(now) ? Instant.Max(turn.DepartsAt, now + Boarding) : turn.DepartsAt;
        return new Visit(turn.Station, Fleet.Abilities.Of(station.Capabilities), turn.ArrivesAt, departs, StaffedHours.Inside(station, zone, turn.ArrivesAt + Deplaning, departs - Boarding));
    }

    /// <summary>Whole minutes in one piece for work between two instants; none is zero.</summary>
    public int MinutesBetween(Instant from, Instant until)
    {
        var longest = Duration.Zero;
        foreach (var (opens, closes) in Workable)
        {
            longest = Duration.Max(longest, Instant.Min(closes, until) - Instant.Max(opens, from));
        }

        return (int)Math.Floor(longest.TotalMinutes);
    }

    /// <summary>Whether work of this kind and length can be finished here, not before one instant and not after another.</summary>
    public bool CanTake(Ability needed, int minutes, Instant from, Instant until) =>
        (Abilities & needed) == needed && MinutesBetween(from, until) >= minutes;
}
