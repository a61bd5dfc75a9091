using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>
/// Where a tail can be reached: the stay in progress, or the next one while it flies. For twelve hours after it left (our
/// choice) the last station still counts, so that paperwork can be finished.
/// </summary>
public static class Whereabouts
{
    public static readonly Duration AfterDeparture = Duration.FromHours(12);

    /// <summary>A tail on blocks whose estimate has passed stays where it is this long, unless its next stay begins (our choice).</summary>
    public static readonly Duration LongestDelay = Duration.FromHours(12);

    /// <summary>The turn under way, or else the next one to begin.</summary>
    public static Turn? CurrentOrNext(IReadOnlyCollection<Turn> turns, Instant now)
    {
        var begun = turns.Where(turn => turn.ArrivesAt <= now).MaxBy(turn => turn.ArrivesAt);
        return begun is not null && !begun.IsOver(now) ? begun : turns.Where(turn => turn.ArrivesAt > now).MinBy(turn => turn.ArrivesAt);
    }

    public static IReadOnlyList<StationCode> ReachableAt(IReadOnlyCollection<Turn> turns, Instant now)
    {
        var here = CurrentOrNext(turns, now);
        var left = turns.Where(turn => turn != here && turn.ArrivesAt <= now && turn.DepartsAt > now - AfterDeparture).MaxBy(turn => turn.DepartsAt);
        return new[] { here, left }.OfType<Turn>().Select(turn => turn.Station).Distinct().ToArray();
    }
}
