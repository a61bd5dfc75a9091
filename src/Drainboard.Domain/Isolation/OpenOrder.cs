namespace Drainboard.Domain.Isolation;

/// <summary>
/// The order of least expected minutes under the single-fault assumption (Heckerman, Breese and Rommelse, CACM 1995; Kadane and Simon 1977):
/// by probability over cost, with deferral as the last step after the best prefix. Panels that several actions share break that order, so
/// then every set is weighed exactly.
/// </summary>
public static class OpenOrder
{
    /// <summary>So many actions are weighed exactly when panels are shared: 2 to this number of sets.</summary>
    public const int MostExact = 16;

    /// <param name="deferMinutes">What it costs to give up and defer; null: it is never given up.</param>
    public static OpenPlan Plan(IReadOnlyList<OpenAction> actions, double? deferMinutes)
    {
        // A panel with one thing behind it is part of that thing's own minutes.
        var panels = actions.Where(action => action is { Access: not null, AccessMinutes: > 0 }).CountBy(action => action.Access!).ToDictionary();
        var shared = panels.Values.Any(behind => behind > 1);
        var whole = actions.Select(action => action.Access is { } panel && panels.GetValueOrDefault(panel) == 1 ? action with { Minutes = action.Minutes + action.AccessMinutes, Access = null } : action);
        var byRatio = whole.Select((action, at) => (action, at)).OrderBy(one => one.action, ByRatio.Comparer).Select(one => one.at).ToArray();
        var order = shared && actions.Count <= MostExact ? Exact(actions, deferMinutes) : byRatio;
        var (stop, minutes) = BestPrefix([.. order.Select(at => actions[at])], deferMinutes);

        // What would come after the stop stands in order of worth all the same.
        return new OpenPlan([.. order.Concat(byRatio.Except(order)).Select(at => actions[at].Segment)], stop, minutes);
    }

    /// <summary>The expected minutes of opening these in this order, and then deferring what is left.</summary>
    public static double Expected(IReadOnlyList<OpenAction> order, double deferMinutes)
    {
        var (left, minutes) = (1.0, 0.0);
        var opened = new HashSet<string>();
        foreach (var action in order)
        {
            minutes += left * Cost(action, opened);
            left = Math.Max(0, left - action.Probability);
        }

        return minutes + (left * deferMinutes);
    }

    private static (int Stop, double Minutes) BestPrefix(OpenAction[] order, double? deferMinutes)
    {
        if (deferMinutes is not { } defer)
        {
            return (order.Length, Expected(order, 0));
        }

        // Stopping early is weighed at every length: a rule that looks one step ahead stops too soon.
        var best = (Stop: 0, Minutes: defer);
        for (var length = 1; length <= order.Length; length++)
        {
            var minutes = Expected(order[..length], defer);
            if (minutes < best.Minutes - 1e-9)
            {
                best = (length, minutes);
            }
        }

        return best;
    }

    /// <summary>Dynamic programming over sets: what is left to pay depends only on which were opened, not on their order.</summary>
    private static int[] Exact(IReadOnlyList<OpenAction> actions, double? deferMinutes)
    {
        var sets = 1 << actions.Count;
        var cost = new double[sets];
        var choice = new int[sets];
        for (var set = sets - 1; set >= 0; set--)
        {
            var done = Enumerable.Range(0, actions.Count).Where(at => (set & (1 << at)) != 0).ToArray();
            var left = Math.Max(0, 1 - done.Sum(at => actions[at].Probability));
            var opened = done.Select(at => actions[at].Access).OfType<string>().ToHashSet();
            (cost[set], choice[set]) = (set == sets - 1 || deferMinutes is not null ? left * (deferMinutes ?? 0) : double.PositiveInfinity, -1);
            for (var next = 0; next < actions.Count; next++)
            {
                if ((set & (1 << next)) != 0)
                {
                    continue;
                }

                var total = (left * (actions[next].Minutes + (actions[next].Access is { } panel && !opened.Contains(panel) ? actions[next].AccessMinutes : 0))) + cost[set | (1 << next)];
                if (total < cost[set] - 1e-9)
                {
                    (cost[set], choice[set]) = (total, next);
                }
            }
        }

        var order = new List<int>();
        for (var set = 0; choice[set] >= 0; set |= 1 << order[^1])
        {
            order.Add(choice[set]);
        }

        return [.. order];
    }

    private static double Cost(OpenAction action, HashSet<string> opened) =>
        action.Minutes + (action.Access is { } panel && opened.Add(panel) ? action.AccessMinutes : 0);

    /// <summary>Probability over cost, falling; no cost first, no probability last; ties by id.</summary>
    private sealed class ByRatio : IComparer<OpenAction>
    {
        public static ByRatio Comparer { get; } = new();

        public int Compare(OpenAction? x, OpenAction? y)
        {
            // p/c compared crosswise, so that a cost of zero needs no division.
            var (left, right) = (x!.Probability * y!.Minutes, y.Probability * x.Minutes);
            var byRatio = Math.Abs(left - right) <= 1e-12 * Math.Max(left, right) ? (x.Minutes == 0).CompareTo(y.Minutes == 0) * -1 : right.CompareTo(left);
            return byRatio != 0 ? byRatio : string.CompareOrdinal(x.Segment, y.Segment);
        }
    }
}
