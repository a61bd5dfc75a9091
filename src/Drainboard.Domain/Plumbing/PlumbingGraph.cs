using System.Collections.Concurrent;
using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Plumbing;

/// <summary>
/// The two directed graphs of a layout, for asking what a fixture drains into and what shares its way. Safe to ask of any
/// drawing, sound or not: a loop ends a walk instead of running for ever. Immutable once built.
/// </summary>
public sealed class PlumbingGraph
{
    private readonly Dictionary<Position, Fixture> _fixtures;
    private readonly ILookup<Position, Position> _drainsTo;
    private readonly ILookup<Position, Position> _drainedFrom;
    private readonly ILookup<Position, Position> _suppliedFrom;
    private readonly ILookup<Position, Position> _supplies;
    private readonly ConcurrentDictionary<Position, IReadOnlyList<Fixture>> _drainPaths = [];

    public PlumbingGraph(IEnumerable<Fixture> fixtures, IEnumerable<Connection> connections)
    {
        _fixtures = fixtures.DistinctBy(fixture => fixture.Position).ToDictionary(fixture => fixture.Position);
        var pipes = connections.ToArray();
        _drainsTo = pipes.Where(pipe => pipe.Water == Water.Drainage).ToLookup(pipe => pipe.From, pipe => pipe.To);
        _drainedFrom = pipes.Where(pipe => pipe.Water == Water.Drainage).ToLookup(pipe => pipe.To, pipe => pipe.From);
        _supplies = pipes.Where(pipe => pipe.Water == Water.Supply).ToLookup(pipe => pipe.From, pipe => pipe.To);
        _suppliedFrom = pipes.Where(pipe => pipe.Water == Water.Supply).ToLookup(pipe => pipe.To, pipe => pipe.From);
    }

    /// <summary>The fixtures that water poured at a position passes, in order of flow, the position itself first, down to the mast or tank where it comes to rest. Follows the first pipe where a drain forks.</summary>
    public IReadOnlyList<Fixture> DrainPath(Position from) => _drainPaths.GetOrAdd(from, WalkDown);

    /// <summary>The way back to the potable tank, the position itself first.</summary>
    public IReadOnlyList<Fixture> SupplyPath(Position from) => Walk(from, _suppliedFrom);

    /// <summary>The fixtures used on board whose drain meets this one's way before it ends, nearest meeting first, itself not included.</summary>
    public IReadOnlyList<Fixture> SharesDrainWith(Position from) =>
        DrainPath(from).Skip(1).Where(node => node.Kind != FixtureKind.WasteTank)
            .SelectMany(node => Upstream(node.Position))
            .Where(fixture => fixture.Position != from && fixture.Kind.StandsBetween())
            .Distinct().ToArray();

    /// <summary>Everything that drains through a position, itself not included, in order of distance.</summary>
    public IReadOnlyList<Fixture> Upstream(Position of)
    {
        var seen = new HashSet<Position> { of };
        var found = new List<Fixture>();
        var next = new Queue<Position>(_drainedFrom[of]);
        while (next.TryDequeue(out var position))
        {
            if (!seen.Add(position))
            {
                continue;
            }

            if (_fixtures.TryGetValue(position, out var fixture))
            {
                found.Add(fixture);
            }

            foreach (var further in _drainedFrom[position])
            {
                next.Enqueue(further);
            }
        }

        return found;
    }

    /// <summary>
    /// The drawing around one place: everything that reaches the water's way through it, and the way itself to its mast, tank or source.
    /// Null where there is no such fixture.
    /// </summary>
    public PlumbingBranch? Around(Position at, Water water)
    {
        if (!_fixtures.TryGetValue(at, out var fixture))
        {
            return null;
        }

        var ahead = water == Water.Drainage ? DrainPath(at) : SupplyPath(at);
        var branch = Unfold(fixture, water, []);
        foreach (var next in ahead.Skip(1))
        {
            var drawn = branch.Fixtures.Select(one => one.Position).ToHashSet();
            branch = new PlumbingBranch(next, [branch], Unfold(next, water, []).Fixtures.DistinctBy(one => one.Position).Count(one => one.Kind.StandsBetween() && !drawn.Contains(one.Position)));
        }

        return branch;
    }

    /// <summary>
    /// The places from which the drains, or the supply, are best drawn one at a time: each end, and where more fixtures meet there than
    /// <paramref name="most"/>, the lines that lead to it as well. Fore to aft.
    /// </summary>
    public IReadOnlyList<Fixture> Views(Water water, int most = 14)
    {
        var ends = _fixtures.Values.Where(fixture => water == Water.Drainage ? fixture.Kind is FixtureKind.DrainMast or FixtureKind.WasteTank : fixture.Kind == FixtureKind.PotableTank);
        return [.. ends.SelectMany(end => Split(Unfold(end, water, []))).DistinctBy(fixture => fixture.Position).OrderBy(fixture => fixture.Along).ThenBy(fixture => fixture.Position.Value, StringComparer.Ordinal)];

        IEnumerable<Fixture> Split(PlumbingBranch branch) => branch.Branches.Count == 0 ? []
            : branch.Leaves <= most ? [branch.Fixture]
            : branch.Branches.Where(one => one.Leaves > 1).SelectMany(Split).Append(branch.Fixture);
    }

    private PlumbingBranch Unfold(Fixture fixture, Water water, HashSet<Position> way)
    {
        if (!way.Add(fixture.Position))
        {
            return new PlumbingBranch(fixture, []);
        }

        var next = (water == Water.Drainage ? _drainedFrom : _supplies)[fixture.Position].Distinct().Where(_fixtures.ContainsKey).Select(position => _fixtures[position]);
        var branches = next.OrderBy(one => one.Along).ThenBy(one => one.Across).ThenBy(one => one.Position.Value, StringComparer.Ordinal).Select(one => Unfold(one, water, way)).ToArray();
        way.Remove(fixture.Position);
        return new PlumbingBranch(fixture, branches);
    }

    private IReadOnlyList<Fixture> WalkDown(Position from)
    {
        var way = Walk(from, _drainsTo);
        var end = way.FindIndex(fixture => fixture.Kind is FixtureKind.DrainMast or FixtureKind.WasteTank);
        return end < 0 ? way : way[..(end + 1)];
    }

    private List<Fixture> Walk(Position from, ILookup<Position, Position> along)
    {
        var seen = new HashSet<Position>();
        var path = new List<Fixture>();
        for (Position? at = from; at is { } position && seen.Add(position) && _fixtures.TryGetValue(position, out var fixture);)
        {
            path.Add(fixture);
            at = along[position].Select(next => (Position?)next).FirstOrDefault();
        }

        return path;
    }
}
