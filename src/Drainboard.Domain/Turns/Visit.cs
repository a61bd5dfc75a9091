using Drainboard.Domain.Fleet;
using Drainboard.Domain.TurnFit;
using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>
/// One stay of a tail as a chance to work on it: what the station can do, and the stretches in which its people are there and the place on
/// board can be reached.
/// </summary>
public sealed class Visit
{
    private readonly Station _station;
    private readonly DateTimeZone _zone;
    private readonly FitTerms _terms;
    private Ability? _abilities;
    private TurnAccess? _access;
    private (Instant From, Instant To)[]? _staffed;
    private IReadOnlyList<(Instant From, Instant To)>?[]? _workable;

    private Visit(Turn turn, Instant departs, Station station, DateTimeZone zone, FitTerms terms) =>
        (Turn, DepartsAt, _station, _zone, _terms) = (turn, departs, station, zone, terms);

    public Turn Turn { get; }

    public StationCode Station => Turn.Station;

    public Ability Abilities => _abilities ??= Fleet.Abilities.Of(_station.Capabilities);

    public Instant ArrivesAt => Turn.ArrivesAt;

    public Instant DepartsAt { get; }

    /// <summary>What else goes on around the aircraft.</summary>
    public IReadOnlyList<AccessBlock> Blocks => Access.Blocks;

    // Most stays of a long plan are never asked when they can be worked, so that is worked out for those that are.
    private TurnAccess Access => _access ??= new TurnAccess(ArrivesAt, DepartsAt, Turn.Windows, _terms);

    private (Instant From, Instant To)[] Staffed => _staffed ??= StaffedHours.Inside(_station, _zone, ArrivesAt, DepartsAt);

    /// <param name="now">A stay that is past its estimate and not over lasts at least until now.</param>
    public static Visit Of(Turn turn, Station station, DateTimeZone zone, Instant now, FitTerms terms)
    {
        var departs = turn.IsOverdue(now) ? Instant.Max(turn.DepartsAt, now + Duration.FromMinutes(terms.BoardingMinutes)) : turn.DepartsAt;
        return new Visit(turn, departs, station, zone, terms);
    }

    /// <summary>When a place can be worked, in order.</summary>
    public IReadOnlyList<(Instant From, Instant To)> Workable(CabinPlace place) =>
        (_workable ??= new IReadOnlyList<(Instant, Instant)>?[Enum.GetValues<CabinPlace>().Length])[(int)place] ??= [.. from free in Access.Stretches(place) from staffed in Staffed let both = (From: Instant.Max(free.From, staffed.From), To: Instant.Min(free.To, staffed.To)) where both.From < both.To select both];

    /// <summary>The longest stretch for work at a place between two instants; null where there is none.</summary>
    public (Instant From, Instant To)? LongestBetween(CabinPlace place, Instant from, Instant until)
    {
        (Instant From, Instant To)? longest = null;
        foreach (var (opens, closes) in Workable(place))
        {
            var (begins, ends) = (Instant.Max(opens, from), Instant.Min(closes, until));
            longest = ends > begins && (longest is not { } known || ends - begins > known.To - known.From) ? (begins, ends) : longest;
        }

        return longest;
    }

    /// <summary>Whole minutes in one piece for work at a place between two instants; none is zero.</summary>
    public int MinutesBetween(CabinPlace place, Instant from, Instant until) => LongestBetween(place, from, until) is { } longest ? (int)Math.Floor((longest.To - longest.From).TotalMinutes) : 0;

    /// <summary>Whether work that needs this can be finished here, not before one instant and not after another.</summary>
    public bool CanTake(WorkNeed need, Instant from, Instant until) =>
        (Abilities & need.Ability) == need.Ability && MinutesBetween(need.Place, from, until) >= need.Minutes;
}
