using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Domain.PlannedChecks;

/// <summary>What is known of one tail when its planned checks are worked out.</summary>
/// <param name="Checks">The newest version of each check.</param>
/// <param name="Last">When each check was last done so that it counts, by fixture.</param>
/// <param name="Opened">When a job last opened a fixture and put something right there.</param>
/// <param name="Drains">What the pours of fixtures say of their drains.</param>
/// <param name="Stay">The stay under way or the next; null: none is known.</param>
/// <param name="Coldest">The coldest that is known of that stay; null: nothing is known.</param>
public sealed record CheckSituation(Tail Tail, CabinLayout Layout, IReadOnlyList<PlannedCheck> Checks, IReadOnlyDictionary<(string Check, Position? Position), Instant> Last, IReadOnlyDictionary<Position, Instant> Opened, IReadOnlyDictionary<Position, DrainCall> Drains, Visit? Stay, StandTemperature? Coldest)
{
    private ILookup<Position, DrainCall>? _through;

    /// <summary>What the pours of those that drain through a fixture say.</summary>
    public IEnumerable<DrainCall> Through(Position at) =>
        (_through ??= Drains.SelectMany(drain => CabinDrains.PathOf(Layout, drain.Key).Select(node => (node.Position, Call: drain.Value))).ToLookup(one => one.Position, one => one.Call))[at];
}
