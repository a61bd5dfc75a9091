using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Isolation;

/// <summary>
/// Where to look first for a slow drain: how likely each segment is, which pour tells most and whether it is worth its minutes, and in
/// which order to open, with deferral at the end of the best prefix. Advice with its reasons; the approved manual decides.
/// </summary>
/// <param name="Segments">Every segment of the drain that the fixture is on, likeliest alone first.</param>
/// <param name="Pours">Untested fixtures by bits a minute.</param>
/// <param name="Worthwhile">The pour that saves more minutes than it takes; null when opening now is better.</param>
/// <param name="Evidence">What was gone by, in the end.</param>
public sealed record DrainAdvice(
    IReadOnlyList<SegmentAdvice> Segments, IReadOnlyList<PourGain> Pours, WorthwhilePour? Worthwhile, OpenPlan Plan, IReadOnlyList<BlockedState> TopStates, double EvidenceProbability, IReadOnlyDictionary<string, PourResult> Evidence, IReadOnlyList<Explained> Explanation)
{
    /// <summary>Whether anything on this drain is known to be slow; without that there is nothing to open.</summary>
    public bool IsAnythingSlow => Evidence.Values.Contains(PourResult.Slow);

    /// <summary>The advice, or null when the results contradict each other.</summary>
    /// <param name="at">The fixture in question; it has a path.</param>
    /// <param name="seen">Slow or fine, by fixture: pours and open write-ups.</param>
    public static DrainAdvice? Work(CabinLayout layout, Position at, IReadOnlyDictionary<Position, PourResult> seen, Circumstances circumstances, Func<Position, SegmentHistory> historyOf, AdviceTerms terms)
    {
        var (path, otherPath) = (CabinDrains.PathOf(layout, at), circumstances.BacksUpInto is { } other ? CabinDrains.PathOf(layout, other) : []);
        var drain = layout.Fixtures.Where(CabinDrains.IsOutlet).Select(fixture => (Fixture: fixture, Path: CabinDrains.PathOf(layout, fixture.Position))).Where(outlet => outlet.Path.Count > 0 && outlet.Path[^1].Position == path[^1].Position).ToArray();
        var segments = drain.SelectMany(outlet => outlet.Path).DistinctBy(segment => segment.Position).ToArray();
        var priors = segments.ToDictionary(segment => segment.Position, segment => PriorOf(segment, historyOf(segment.Position), circumstances.Ratio(segment, path, otherPath, terms), terms));
        var tree = DrainTree.Build([.. segments.Select(segment => new DrainSegment(segment.Position.Value, priors[segment.Position]))], [.. drain.Select(outlet => new DrainOutlet(outlet.Fixture.Position.Value, [.. outlet.Path.Select(segment => segment.Position.Value)]))]).Tree;
        var model = new PourModel(terms.Link, terms.Leak);
        var evidence = EvidenceOf(drain.Select(outlet => outlet.Fixture.Position).ToHashSet(), seen, circumstances, at);
        if (tree is null || DrainInference.Infer(tree, model, evidence) is not { } posterior)
        {
            return null;
        }

        var advised = segments.Select(segment => Advise(segment, priors[segment.Position], posterior, historyOf(segment.Position))).OrderByDescending(segment => Math.Round(segment.Alone, 10)).ThenBy(segment => segment.Fixture.Position.Value, StringComparer.Ordinal).ToArray();
        var minutes = advised.ToDictionary(segment => segment.Fixture.Position.Value, segment => segment.Minutes, StringComparer.Ordinal);
        // What is all but ruled out is not worth a place in the order; and sets are weighed exactly only while they are few.
        var actions = advised.Take(OpenOrder.MostExact).Select(segment => new OpenAction(segment.Fixture.Position.Value, segment.Alone, segment.Minutes, segment.Fixture.Access.Length > 0 ? segment.Fixture.Access : null, segment.Fixture.Access.Length > 0 ? terms.AccessMinutes : 0)).ToArray();
        return new DrainAdvice(
            advised, circumstances.AloftOnly ? [] : posterior.NextPours, circumstances.AloftOnly ? null : PourAdvice.Best(tree, model, evidence, minutes, terms.DeferMinutes, terms.PourMinutes), OpenOrder.Plan(actions, terms.DeferMinutes),
            posterior.TopStates, posterior.EvidenceProbability, evidence, [.. Explain(evidence, posterior, circumstances, terms)]);
    }

    /// <summary>
    /// The trade's share, moved by findings (beta), then by the days since it was opened: taken as blocking at a steady rate, the chance that
    /// it is blocked after d days is 1 - (1 - p)^(d/D), p being that after the usual D days. Last by the circumstances, on its odds.
    /// </summary>
    public static double PriorOf(Fixture segment, SegmentHistory history, double ratio, AdviceTerms terms)
    {
        var usual = BlockagePriors.Of(segment.Kind, history.FoundHere, history.WriteUps, terms.TradeWeight);
        var aged = history.DaysSinceOpened is { } days ? 1 - Math.Pow(1 - usual, Math.Clamp(days / terms.DaysToUsual, 0.05, 3)) : usual;
        return aged * ratio / (1 - aged + (aged * ratio));
    }

    private static Dictionary<string, PourResult> EvidenceOf(HashSet<Position> drain, IReadOnlyDictionary<Position, PourResult> seen, Circumstances circumstances, Position at)
    {
        // What ran free on the ground says little of a fault that shows only aloft.
        var evidence = seen.Where(one => drain.Contains(one.Key) && !(circumstances.AloftOnly && one.Value == PourResult.Ok)).ToDictionary(one => one.Key.Value, one => one.Value, StringComparer.Ordinal);
        if (circumstances.AloftOnly)
        {
            evidence[at.Value] = PourResult.Slow;
        }

        if (circumstances.BacksUpInto is { } other && drain.Contains(other))
        {
            evidence[other.Value] = PourResult.Slow;
        }

        return evidence;
    }

    private static SegmentAdvice Advise(Fixture segment, double prior, DrainPosterior posterior, SegmentHistory history)
    {
        var id = segment.Position.Value;
        var (minutes, from) = history.OwnMinutes is { } own ? (own.Minutes, $"this fleet's own: median of {own.Of}") : (BlockagePriors.Minutes(segment.Kind), "common practice");
        return new SegmentAdvice(segment, prior, posterior.Marginals[id], posterior.SingleFault[id], minutes, from, history);
    }

    private static IEnumerable<Explained> Explain(Dictionary<string, PourResult> evidence, DrainPosterior posterior, Circumstances circumstances, AdviceTerms terms)
    {
        yield return new($"Before any pour each part is as likely blocked as the trade says, moved by what this fleet found there (the trade's word weighs as {terms.TradeWeight:0} findings) and by the days since it was opened.", "common practice; beta posterior, our arithmetic");
        foreach (var circumstance in circumstances.Explain(terms))
        {
            yield return circumstance;
        }

        yield return new($"A blocked part makes what drains through it slow with chance {terms.Link:0.##}; a drain is slow for no blockage with chance {terms.Leak:0.##}. What was not poured is not taken for fine.", "noisy-OR, Pearl 1988; chances are editable defaults");
        yield return new(evidence.Count == 0 ? "Nothing was poured yet." : $"Known: {string.Join(", ", evidence.OrderBy(one => one.Key, StringComparer.Ordinal).Select(one => $"{one.Key} {(one.Value == PourResult.Slow ? "slow" : "fine")}"))}. All of it together had a chance of {posterior.EvidenceProbability:0.####}.", "our arithmetic");
        if (circumstances.AloftOnly)
        {
            yield return new("No pour is advised: on the ground it would tell little of a fault that shows only aloft.", "common practice");
        }

        yield return new($"The order is that of least expected minutes if one part is at fault, with deferral ({terms.DeferMinutes:0} min) as the last step. A pour ({terms.PourMinutes:0} min) is advised when the order it leads to saves more than it takes.", "Heckerman, Breese and Rommelse, CACM 1995; our arithmetic");
        yield return new("This is advice. The approved manual decides what is opened and how; the person with the authorisation decides fix or defer.", "common practice");
    }
}
