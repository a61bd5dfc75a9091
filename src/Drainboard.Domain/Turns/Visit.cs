using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>
/// One stay of a tail as a chance to work on it: what the station can do, and the longest stretch in which its people are there and the
/// cabin can be reached. The first ten minutes of a stay (doors, deplaning) and the last twelve (boarding, paperwork) are not
/// usable; common practice, no source.
/// </summary>
public readonly record struct Visit(StationCode Station, Ability Abilities, Instant ArrivesAt, Instant DepartsAt, Instant WorkFrom, Instant WorkTo)
{
    private static readonly Duration Deplaning = Duration.FromMinutes(10);
    private static readonly Duration Boarding = Duration.FromMinutes(12);

    public static Visit Of(Turn turn, Station station, DateTimeZone zone)
    {
        var (from, to) = StaffedHours.Longest(station, zone, turn.ArrivesAt + Deplaning, turn.DepartsAt - Boarding);
        return new Visit(turn.Station, Fleet.Abilities.Of(station.Capabilities), turn.ArrivesAt, turn.DepartsAt, from, to);
    }

    /// <summary>Whole minutes for work between two instants; none is zero.</summary>
    public int MinutesBetween(Instant from, Instant until) =>
        (int)Math.Max(0, Math.Floor((Instant.Min(WorkTo, until) - Instant.Max(WorkFrom, from)).TotalMinutes));

    /// <summary>Whether work of this kind and length can be finished here, not before one instant and not after another.</summary>
    public bool CanTake(Ability needed, int minutes, Instant from, Instant until) =>
        (Abilities & needed) == needed && MinutesBetween(from, until) >= minutes;
}
