using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Domain.PlannedChecks;

/// <summary>What is known of one tail when its planned checks are worked out.</summary>
/// <param name="Checks">The newest version of each check.</param>
/// <param name="Done">What was done on this tail, at least the newest that counts of each check and fixture.</param>
/// <param name="Opened">When a job last opened a fixture and put something right there.</param>
/// <param name="Drains">What the pours of fixtures say of their drains.</param>
/// <param name="Stay">The stay under way or the next; null: none is known.</param>
/// <param name="Coldest">The coldest that is known of that stay; null: nothing is known.</param>
public sealed record CheckSituation(Tail Tail, CabinLayout Layout, IReadOnlyList<PlannedCheck> Checks, IReadOnlyList<CheckDone> Done, IReadOnlyDictionary<Position, Instant> Opened, IReadOnlyDictionary<Position, DrainCall> Drains, Visit? Stay, StandTemperature? Coldest)
{
    private ILookup<Position, DrainCall>? _through;
    private Dictionary<(string Check, Position? Position), Instant>? _last;

    /// <summary>When each check was last done so that it counts, by fixture.</summary>
    public IReadOnlyDictionary<(string Check, Position? Position), Instant> Last =>
        _last ??= Done.Where(done => done.Counts).GroupBy(done => (done.Check, done.Position)).ToDictionary(alike => alike.Key, alike => alike.Max(done => done.At));

    /// <summary>What the pours of those that drain through a fixture say.</summary>
    public IEnumerable<DrainCall> Through(Position at) =>
        (_through ??= Drains.SelectMany(drain => CabinDrains.PathOf(Layout, drain.Key).Select(node => (node.Position, Call: drain.Value))).ToLookup(one => one.Position, one => one.Call))[at];
}
