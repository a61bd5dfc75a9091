using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Plumbing;

/// <summary>
/// When a layout's drawing is sound. The potable and waste systems never intermix, every drain ends at a mast or in a tank,
/// toilets go to the waste tank, and a layout without masts leads its grey water there too. Facts of the trade; common
/// practice, no source (overboard discharge of waste is ruled out by 21 CFR 1250.53; grey water is not named there).
/// </summary>
public static class PlumbingRules
{
    /// <summary>Every fault of the drawing; none when it is sound.</summary>
    public static IReadOnlyList<PlumbingFault> Check(IReadOnlyList<Fixture> fixtures, IReadOnlyList<Connection> connections) =>
    [
        .. Doubles(fixtures),
        .. LooseEnds(fixtures, connections),
        .. Mixing(fixtures, connections),
        .. Loops(connections),
        .. Ends(fixtures, connections),
        .. Sources(fixtures, connections),
    ];

    private static IEnumerable<PlumbingFault> Doubles(IReadOnlyList<Fixture> fixtures) =>
        from same in fixtures.GroupBy(fixture => fixture.Position)
        where same.Count() > 1
        select new PlumbingFault("position-twice", [same.Key], $"Position {same.Key} is listed {same.Count()} times. Give each fixture its own position code.");

    private static IEnumerable<PlumbingFault> LooseEnds(IReadOnlyList<Fixture> fixtures, IReadOnlyList<Connection> connections)
    {
        var known = fixtures.Select(fixture => fixture.Position).ToHashSet();
        foreach (var pipe in connections)
        {
            foreach (var end in new[] { pipe.From, pipe.To }.Where(end => !known.Contains(end)))
            {
                yield return new PlumbingFault("no-such-position", [end], $"The {pipe.Water.Words()} pipe from {pipe.From} to {pipe.To} names {end}, which is no fixture of this layout. Add the fixture or mend the pipe.");
            }

            if (pipe.From == pipe.To)
            {
                yield return new PlumbingFault("pipe-to-itself", [pipe.From], $"A pipe leads from {pipe.From} to itself. Remove it.");
            }
        }
    }

    private static IEnumerable<PlumbingFault> Mixing(IReadOnlyList<Fixture> fixtures, IReadOnlyList<Connection> connections)
    {
        var supply = Touched(connections, Water.Supply);
        var drainage = Touched(connections, Water.Drainage);
        foreach (var fixture in fixtures)
        {
            var at = fixture.Position;
            if (fixture.Kind.IsPotableOnly() && drainage.Contains(at))
            {
                yield return new PlumbingFault("potable-drains", [at], $"{fixture.Name} ({at}) is a {fixture.Kind.Words()} and may hold potable water only, yet a drainage pipe meets it.");
            }
            else if (fixture.Kind.IsDrainOnly() && supply.Contains(at))
            {
                yield return new PlumbingFault("waste-supplies", [at], $"{fixture.Name} ({at}) is a {fixture.Kind.Words()} and holds grey water or waste, yet a supply pipe meets it.");
            }
            else if (!fixture.Kind.StandsBetween() && supply.Contains(at) && drainage.Contains(at))
            {
                yield return new PlumbingFault("systems-mix", [at], $"{fixture.Name} ({at}) is on both the supply and the drainage. Only a sink, a basin, a toilet or a coffee maker stands between them.");
            }
        }

        var kinds = KindsOf(fixtures);
        foreach (var pipe in connections.Where(pipe => pipe.Water == Water.Supply && kinds.GetValueOrDefault(pipe.From) is { } kind && kind.StandsBetween() && kind != FixtureKind.CoffeeMaker))
        {
            yield return new PlumbingFault("supplied-from-a-drain", [pipe.From, pipe.To], $"{pipe.To} is supplied from {pipe.From}, where water has already been used. Supply it from a tank, heater or filter.");
        }
    }

    private static IEnumerable<PlumbingFault> Loops(IReadOnlyList<Connection> connections)
    {
        foreach (var water in Enum.GetValues<Water>())
        {
            var ahead = connections.Where(pipe => pipe.Water == water && pipe.From != pipe.To).ToLookup(pipe => pipe.From, pipe => pipe.To);
            var done = new HashSet<Position>();
            foreach (var start in ahead.Select(group => group.Key).OrderBy(position => position.Value, StringComparer.Ordinal))
            {
                if (FindLoop(start, ahead, done, []) is { } loop)
                {
                    yield return new PlumbingFault("loop", loop, $"The {water.Words()} runs in a circle: {string.Join(" to ", loop)}. Water flows one way; turn or remove one of these pipes.");
                    break;
                }
            }
        }
    }

    private static Position[]? FindLoop(Position at, ILookup<Position, Position> ahead, HashSet<Position> done, List<Position> way)
    {
        if (way.IndexOf(at) is var seen and >= 0)
        {
            return [.. way.Skip(seen), at];
        }

        if (done.Contains(at))
        {
            return null;
        }

        way.Add(at);
        var loop = ahead[at].Select(next => FindLoop(next, ahead, done, way)).FirstOrDefault(found => found is not null);
        way.RemoveAt(way.Count - 1);
        done.Add(at);
        return loop;
    }

    private static IEnumerable<PlumbingFault> Ends(IReadOnlyList<Fixture> fixtures, IReadOnlyList<Connection> connections)
    {
        var kinds = KindsOf(fixtures);
        var ahead = connections.Where(pipe => pipe.Water == Water.Drainage).ToLookup(pipe => pipe.From, pipe => pipe.To);
        var hasMast = fixtures.Any(fixture => fixture.Kind == FixtureKind.DrainMast);
        foreach (var fixture in fixtures.Where(fixture => fixture.Kind.StandsBetween() || fixture.Kind is FixtureKind.Strainer or FixtureKind.DrainLine))
        {
            var ends = EndsOf(fixture.Position, ahead, kinds);
            if (ends.Count == 0 || ends.Any(end => end is not (FixtureKind.DrainMast or FixtureKind.WasteTank)))
            {
                var instead = hasMast ? "a mast or a waste tank" : "the waste tank (this layout has no mast)";
                yield return new PlumbingFault("drain-without-end", [fixture.Position], $"What drains from {fixture.Name} ({fixture.Position}) reaches no mast and no waste tank. Lead it to {instead}.");
            }
            else if (fixture.Kind == FixtureKind.Toilet && ends.Any(end => end != FixtureKind.WasteTank))
            {
                yield return new PlumbingFault("toilet-overboard", [fixture.Position], $"{fixture.Name} ({fixture.Position}) would empty overboard. A toilet goes to a waste tank.");
            }
        }

        foreach (var pipe in connections.Where(pipe => pipe.Water == Water.Drainage && kinds.GetValueOrDefault(pipe.From) == FixtureKind.DrainMast))
        {
            yield return new PlumbingFault("mast-goes-on", [pipe.From, pipe.To], $"A pipe leads on from the mast {pipe.From}. A mast is where water leaves the aircraft; nothing follows it.");
        }
    }

    /// <summary>The kinds at which every way from a position comes to rest. A waste tank is an end even where a service pipe leads on.</summary>
    private static List<FixtureKind?> EndsOf(Position from, ILookup<Position, Position> ahead, Dictionary<Position, FixtureKind?> kinds)
    {
        var ends = new List<FixtureKind?>();
        var seen = new HashSet<Position>();
        var next = new Stack<Position>(ahead[from]);
        while (next.TryPop(out var at))
        {
            if (!seen.Add(at))
            {
                continue;
            }

            var kind = kinds.GetValueOrDefault(at);
            if (kind == FixtureKind.WasteTank || !ahead[at].Any())
            {
                ends.Add(kind);
                continue;
            }

            foreach (var further in ahead[at])
            {
                next.Push(further);
            }
        }

        return ends;
    }

    private static IEnumerable<PlumbingFault> Sources(IReadOnlyList<Fixture> fixtures, IReadOnlyList<Connection> connections)
    {
        var kinds = KindsOf(fixtures);
        var back = connections.Where(pipe => pipe.Water == Water.Supply).ToLookup(pipe => pipe.To, pipe => pipe.From);
        foreach (var fixture in fixtures.Where(fixture => fixture.Kind.StandsBetween() || fixture.Kind == FixtureKind.WaterHeater))
        {
            if (!ReachesTank(fixture.Position, back, kinds, []))
            {
                yield return new PlumbingFault("no-supply", [fixture.Position], $"{fixture.Name} ({fixture.Position}) is not supplied from a potable tank. Draw the supply pipes that lead to it.");
            }
        }
    }

    private static bool ReachesTank(Position at, ILookup<Position, Position> back, Dictionary<Position, FixtureKind?> kinds, HashSet<Position> seen) =>
        seen.Add(at) && back[at].Any(from => kinds.GetValueOrDefault(from) == FixtureKind.PotableTank || ReachesTank(from, back, kinds, seen));

    private static HashSet<Position> Touched(IReadOnlyList<Connection> connections, Water water) =>
        connections.Where(pipe => pipe.Water == water).SelectMany(pipe => new[] { pipe.From, pipe.To }).ToHashSet();

    private static Dictionary<Position, FixtureKind?> KindsOf(IReadOnlyList<Fixture> fixtures) =>
        fixtures.DistinctBy(fixture => fixture.Position).ToDictionary(fixture => fixture.Position, fixture => (FixtureKind?)fixture.Kind);

    private static string Words(this Water water) => water switch
    {
        Water.Supply => "supply",
        Water.Drainage => "drainage",
    };
}
