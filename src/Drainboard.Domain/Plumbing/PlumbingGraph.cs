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

    public PlumbingGraph(IEnumerable<Fixture> fixtures, IEnumerable<Connection> connections)
    {
        _fixtures = fixtures.DistinctBy(fixture => fixture.Position).ToDictionary(fixture => fixture.Position);
        var pipes = connections.ToArray();
        _drainsTo = pipes.Where(pipe => pipe.Water == Water.Drainage).ToLookup(pipe => pipe.From, pipe => pipe.To);
        _drainedFrom = pipes.Where(pipe => pipe.Water == Water.Drainage).ToLookup(pipe => pipe.To, pipe => pipe.From);
        _suppliedFrom = pipes.Where(pipe => pipe.Water == Water.Supply).ToLookup(pipe => pipe.To, pipe => pipe.From);
    }

    /// <summary>The fixtures that water poured at a position passes, in order of flow, the position itself first, down to the mast or tank where it comes to rest. Follows the first pipe where a drain forks.</summary>
    public IReadOnlyList<Fixture> DrainPath(Position from)
    {
        var way = Walk(from, _drainsTo);
        var end = way.FindIndex(fixture => fixture.Kind is FixtureKind.DrainMast or FixtureKind.WasteTank);
        return end < 0 ? way : way[..(end + 1)];
    }

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
