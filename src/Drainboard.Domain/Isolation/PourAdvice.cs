namespace Drainboard.Domain.Isolation;

/// <summary>A pour that is worth its minutes: how many it saves on average, its own already taken off.</summary>
public sealed record WorthwhilePour(string Outlet, double SlowProbability, double SavedMinutes);

/// <summary>
/// Whether to pour once more or to open now. What tells most is not always worth the time: a pour is advised only when, under the single-fault
/// assumption, the order it leads to saves more minutes than it takes.
/// </summary>
public static class PourAdvice
{
    /// <param name="minutes">To open, look and put right, for each segment that can be opened here; what is not in it goes to deferral.</param>
    /// <param name="deferMinutes">What deferring costs; null: it is never given up.</param>
    /// <returns>The pour that saves most; null when none is worth it, or when the evidence contradicts itself.</returns>
    public static WorthwhilePour? Best(DrainTree tree, PourModel model, IReadOnlyDictionary<string, PourResult> evidence, IReadOnlyDictionary<string, double> minutes, double? deferMinutes, double pourMinutes)
    {
        if (DrainInference.Infer(tree, model, evidence) is not { } posterior)
        {
            return null;
        }

        var now = Expected(posterior.SingleFault, minutes, deferMinutes);
        var best = (WorthwhilePour?)null;
        foreach (var pour in posterior.NextPours)
        {
            var on = tree.Outlets.Single(outlet => outlet.Id == pour.Outlet).Path.ToHashSet(StringComparer.Ordinal);
            var (slow, whenSlow) = After(posterior.SingleFault, on, model, PourResult.Slow);
            var (_, whenOk) = After(posterior.SingleFault, on, model, PourResult.Ok);
            var then = (slow * Expected(whenSlow, minutes, deferMinutes)) + ((1 - slow) * Expected(whenOk, minutes, deferMinutes));
            var saved = now - then - pourMinutes;
            if (saved > Math.Max(1e-9, best?.SavedMinutes ?? 0))
            {
                best = new WorthwhilePour(pour.Outlet, slow, saved);
            }
        }

        return best;
    }

    private static double Expected(IReadOnlyDictionary<string, double> weights, IReadOnlyDictionary<string, double> minutes, double? deferMinutes) =>
        OpenOrder.Plan([.. minutes.Select(one => new OpenAction(one.Key, weights.GetValueOrDefault(one.Key), one.Value))], deferMinutes).ExpectedMinutes;

    /// <summary>The weights once an outcome is seen, and how likely it is: Bayes over single faults.</summary>
    private static (double Probability, Dictionary<string, double> Weights) After(IReadOnlyDictionary<string, double> weights, HashSet<string> path, PourModel model, PourResult outcome)
    {
        var joint = weights.ToDictionary(one => one.Key, one => one.Value * model.Likelihood(outcome, path.Contains(one.Key) ? 1 : 0), StringComparer.Ordinal);
        var sum = joint.Values.Sum();
        return (sum, sum > 0 ? joint.ToDictionary(one => one.Key, one => one.Value / sum, StringComparer.Ordinal) : joint);
    }
}
