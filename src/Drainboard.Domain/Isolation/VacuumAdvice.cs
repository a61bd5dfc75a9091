using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Isolation;

/// <summary>
/// Vacuum toilets are another network than gravity drains, with a small model of its own: one thing is at fault, and each toilet of the tank
/// that was tried says something about which. A fault of the line takes every toilet that flushes through it, one of the tank takes all.
/// </summary>
/// <param name="Suspects">Likeliest first.</param>
/// <param name="Plan">By least expected minutes; deferral comes last.</param>
public sealed record VacuumAdvice(Fixture Tank, IReadOnlyList<VacuumSuspect> Suspects, OpenPlan Plan, IReadOnlyDictionary<Position, PourResult> Tried, IReadOnlyList<Explained> Explanation)
{
    /// <summary>Null where the toilet has no way to a waste tank.</summary>
    /// <param name="seen">Toilets that were tried: slow stands for "does not flush", ok for "flushes".</param>
    public static VacuumAdvice? Work(CabinLayout layout, Position toilet, IReadOnlyDictionary<Position, PourResult> seen, VacuumSigns signs, AdviceTerms terms)
    {
        if (layout.Plumbing.DrainPath(toilet) is not [.., { Kind: FixtureKind.WasteTank } tank])
        {
            return null;
        }

        var toilets = layout.Fixtures.Where(fixture => fixture.Kind == FixtureKind.Toilet).Select(fixture => (Fixture: fixture, Path: layout.Plumbing.DrainPath(fixture.Position))).Where(one => one.Path[^1].Position == tank.Position).ToArray();
        var tried = seen.Where(one => toilets.Any(known => known.Fixture.Position == one.Key)).ToDictionary();
        var weighed = Causes(layout, tank, toilets, terms).Select(cause => (cause.Fault, cause.At, Weight: cause.Weight * Ratio(cause.Fault, signs, terms) * Likelihood(cause, toilets, tried, terms))).ToArray();
        var all = weighed.Sum(cause => cause.Weight);
        var suspects = weighed.Select(cause => new VacuumSuspect(cause.Fault, cause.At, cause.Weight / all, cause.Fault.Minutes())).OrderByDescending(suspect => Math.Round(suspect.Probability, 10)).ThenBy(suspect => suspect.Id, StringComparer.Ordinal).ToArray();
        var plan = OpenOrder.Plan([.. suspects.Select(suspect => new OpenAction(suspect.Id, suspect.Probability, suspect.Minutes))], terms.DeferMinutes);
        return new VacuumAdvice(tank, suspects, plan, tried, [.. Explain(tank, toilets.Length, tried, signs, terms)]);
    }

    private static IEnumerable<(VacuumFault Fault, Fixture At, double Weight, Func<Position, bool> Takes)> Causes(CabinLayout layout, Fixture tank, (Fixture Fixture, IReadOnlyList<Fixture> Path)[] toilets, AdviceTerms terms)
    {
        var one = 1 - terms.WholeTankShare;
        foreach (var (toilet, _) in toilets)
        {
            foreach (var fault in Enum.GetValues<VacuumFault>().Where(fault => fault.IsOfOneToilet()))
            {
                yield return (fault, toilet, one * fault.Share(), at => at == toilet.Position);
            }
        }

        foreach (var line in toilets.SelectMany(known => known.Path.Where(node => node.Kind == FixtureKind.DrainLine)).DistinctBy(node => node.Position))
        {
            var through = toilets.Where(known => known.Path.Any(node => node.Position == line.Position)).Select(known => known.Fixture.Position).ToHashSet();
            var inSeries = toilets.Where(known => through.Contains(known.Fixture.Position)).Max(known => known.Path.Count(node => node.Kind == FixtureKind.DrainLine));
            yield return (VacuumFault.Line, line, one * VacuumFault.Line.Share() / inSeries, through.Contains);
        }

        var share = terms.WholeTankShare;
        foreach (var fault in new[] { VacuumFault.TankFull, VacuumFault.FalseFull, VacuumFault.ServiceValve })
        {
            yield return (fault, tank, share * fault.Share(), _ => true);
        }

        var generators = layout.Connections.Where(pipe => pipe.From == tank.Position || pipe.To == tank.Position).SelectMany(pipe => new[] { pipe.From, pipe.To }).Distinct().Select(layout.Find).OfType<Fixture>().Where(fixture => fixture.Kind == FixtureKind.VacuumGenerator).ToArray();
        foreach (var generator in generators)
        {
            yield return (VacuumFault.Generator, generator, share * VacuumFault.Generator.Share() / generators.Length, _ => true);
        }
    }

    private static double Likelihood((VacuumFault Fault, Fixture At, double Weight, Func<Position, bool> Takes) cause, (Fixture Fixture, IReadOnlyList<Fixture> Path)[] toilets, Dictionary<Position, PourResult> tried, AdviceTerms terms) =>
        toilets.Where(toilet => tried.ContainsKey(toilet.Fixture.Position)).Aggregate(1.0, (product, toilet) =>
        {
            var fails = cause.Takes(toilet.Fixture.Position) ? terms.Link : terms.Leak;
            return product * (tried[toilet.Fixture.Position] == PourResult.Slow ? fails : 1 - fails);
        });

    private static double Ratio(VacuumFault fault, VacuumSigns signs, AdviceTerms terms)
    {
        var ratio = signs.Regime switch
        {
            VacuumRegime.NotSaid => 1,
            VacuumRegime.LowOnly => fault == VacuumFault.Generator ? terms.LowOnlyAtGenerator : terms.LowOnlyElsewhere,
            VacuumRegime.InTheCruise => fault == VacuumFault.Generator ? terms.CruiseAtGenerator : 1,
        };
        var full = fault is VacuumFault.TankFull or VacuumFault.FalseFull;
        ratio *= signs.ReadsFull switch { true => full ? terms.ReadsFull : terms.ReadsFullElsewhere, false => full ? terms.ReadsFullElsewhere : 1, null => 1 };
        return ratio * (signs.Emptied != true ? 1 : fault switch { VacuumFault.TankFull => terms.EmptiedTrulyFull, VacuumFault.ServiceValve => terms.EmptiedServiceValve, _ => 1 });
    }

    private static IEnumerable<Explained> Explain(Fixture tank, int toilets, Dictionary<Position, PourResult> tried, VacuumSigns signs, AdviceTerms terms)
    {
        yield return new($"{tank.Name} serves {toilets} {(toilets == 1 ? "toilet" : "toilets")}. One toilet alone: object 30, controller or switch 25, flush valve 15, nothing found 15, rinse 8, line 7 in a hundred. All of a tank: truly full 35, false full 25, generator 25, service valve 10 in a hundred.", "common practice, from memory");
        yield return new(tried.Count == 0 ? "No toilet was tried yet: flush two others and say how they did." : $"Known: {string.Join(", ", tried.OrderBy(one => one.Key.Value, StringComparer.Ordinal).Select(one => $"{one.Key} {(one.Value == PourResult.Slow ? "does not flush" : "flushes")}"))}. One not tried is not taken for fine.", "our arithmetic");
        yield return new($"Below {terms.GeneratorBelowFeet:#,0} ft the generator makes the vacuum, above it the cabin's pressure does.", "an editable default of the type");
        if (signs.Regime != VacuumRegime.NotSaid)
        {
            yield return new(signs.Regime == VacuumRegime.LowOnly ? $"They fail low and flush in the cruise: odds of the generator times {terms.LowOnlyAtGenerator:0.##}, of the rest times {terms.LowOnlyElsewhere:0.##}." : $"They fail in the cruise too: odds of the generator times {terms.CruiseAtGenerator:0.##}.", "common practice, an editable default");
        }

        if (signs.ReadsFull is { } full)
        {
            yield return new(full ? $"It reads full: odds of a full tank or a false indication times {terms.ReadsFull:0.##}, of the rest times {terms.ReadsFullElsewhere:0.##}." : $"It does not read full: odds of a full tank or a false indication times {terms.ReadsFullElsewhere:0.##}.", "common practice, an editable default");
        }

        if (signs.Emptied == true)
        {
            yield return new($"It was emptied at this stay: odds of truly full times {terms.EmptiedTrulyFull:0.##}, of a service valve not seated times {terms.EmptiedServiceValve:0.##}.", "common practice, an editable default");
        }

        yield return new("One thing is taken to be at fault. This is advice; the approved manual decides.", "our arithmetic");
    }
}
