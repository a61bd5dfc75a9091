using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Domain.Network;

/// <summary>
/// Two tails that fly each other's lines from the first stay on in which both stand at the same station at the same time: there each goes off
/// blocks when the other would have.
/// </summary>
/// <param name="OneArrives">When the first tail's stay there begins: what it flies after that is the other's. <paramref name="OtherArrives"/>: the other's.</param>
/// <param name="OneLeaves">When the first tail's own line would have gone on; <paramref name="OtherLeaves"/>: the other's.</param>
public sealed record TailSwap(TailId One, TailId Other, StationCode Station, Instant OneArrives, Instant OtherArrives, Instant OneLeaves, Instant OtherLeaves)
{
    /// <summary>They stand together at least so long: passengers, bags and papers change over (our choice).</summary>
    private static readonly Duration Together = Duration.FromMinutes(30);

    /// <param name="one">The stays of one tail that are not over.</param>
    /// <param name="other">Those of the other.</param>
    /// <param name="now">One that is past its estimate and still there stays at least until the two can change over.</param>
    /// <returns>Null where they never meet, as far as is planned.</returns>
    public static TailSwap? Of(IReadOnlyCollection<Turn> one, IReadOnlyCollection<Turn> other, Instant now)
    {
        var meetings = from a in one
                       from b in other
                       where a.Tail != b.Tail && a.Station == b.Station && Instant.Min(Leaves(a, now), Leaves(b, now)) - Instant.Max(a.ArrivesAt, b.ArrivesAt) >= Together
                       orderby Instant.Max(a.ArrivesAt, b.ArrivesAt), a.Id.Value, b.Id.Value
                       select new TailSwap(a.Tail, b.Tail, a.Station, a.ArrivesAt, b.ArrivesAt, a.DepartsAt, b.DepartsAt);
        return meetings.FirstOrDefault();
    }

    /// <summary>The stays of both as they would be.</summary>
    public IReadOnlyList<Turn> Stays(IEnumerable<Turn> before) => [.. before.Select(turn => turn.Tail == One ? Moved(turn, OneLeaves, Other, OtherLeaves) : turn.Tail == Other ? Moved(turn, OtherLeaves, One, OneLeaves) : turn)];

    /// <summary>The flights of both as they would be.</summary>
    public IReadOnlyList<Sector> Flights(IEnumerable<Sector> before) =>
        [.. before.Select(sector => sector.Tail == One && sector.OffBlock >= OneArrives ? Flown(sector, Other) : sector.Tail == Other && sector.OffBlock >= OtherArrives ? Flown(sector, One) : sector)];

    private static Instant Leaves(Turn turn, Instant now) => turn.IsOverdue(now) ? Instant.Max(turn.DepartsAt, now + Together) : turn.DepartsAt;

    private static Turn Moved(Turn turn, Instant leaves, TailId to, Instant otherLeaves) =>
        turn.DepartsAt < leaves ? turn
        : turn.DepartsAt == leaves ? new Turn(turn.Id, turn.Key, turn.Tail, turn.Station, new TurnTimes(turn.Stand, turn.EstimatedArrival, otherLeaves, turn.OnBlocks, null) { Windows = turn.Windows })
        : new Turn(turn.Id, turn.Key, to, turn.Station, new TurnTimes(turn.Stand, turn.EstimatedArrival, turn.EstimatedDeparture, turn.OnBlocks, turn.OffBlocks) { Windows = turn.Windows });

    private static Sector Flown(Sector sector, TailId by) => new(sector.Id, sector.Key, by, new SectorPlan(sector.From, sector.To, sector.OffBlock, sector.OnBlock, sector.FlightMinutes, sector.Flown));
}
