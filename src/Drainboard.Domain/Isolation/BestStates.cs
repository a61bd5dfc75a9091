namespace Drainboard.Domain.Isolation;

/// <summary>
/// The most likely states of the whole drain: the same passes as the inference with "the three best" in place of sums. Ties go to the state
/// whose segments were given first.
/// </summary>
internal static class BestStates
{
    private const int Wanted = 3;

    public static IReadOnlyList<BlockedState> Find(DrainTree tree, Func<int, int, double> local, double logEvidence)
    {
        var best = new Partial[tree.Segments.Count][][];
        foreach (var at in tree.Order.Reverse())
        {
            var prior = tree.Segments[at].Prior;
            best[at] = new Partial[tree.Depths[at]][];
            for (var below = 0; below < tree.Depths[at]; below++)
            {
                Partial[] free = [new(Math.Log(1 - prior) + Math.Log(local(at, below)), [])];
                Partial[] blocked = [new(Math.Log(prior) + Math.Log(local(at, below + 1)), [at])];
                foreach (var child in tree.Children[at])
                {
                    (free, blocked) = (Joined(free, best[child][below]), Joined(blocked, best[child][below + 1]));
                }

                best[at][below] = Top(free.Concat(blocked));
            }
        }

        Partial[] whole = [new(0, [])];
        foreach (var end in tree.Order.Where(at => tree.ParentOf(at) < 0))
        {
            whole = Joined(whole, best[end][0]);
        }

        return [.. whole.Select(state => new BlockedState([.. state.Blocked.Select(at => tree.Segments[at].Id)], Math.Exp(state.Log - logEvidence)))];
    }

    private static Partial[] Joined(Partial[] left, Partial[] right) =>
        Top(from one in left from other in right select new Partial(one.Log + other.Log, [.. one.Blocked.Concat(other.Blocked).Order()]));

    private static Partial[] Top(IEnumerable<Partial> states) =>
        [.. states.Where(state => !double.IsNegativeInfinity(state.Log)).OrderByDescending(state => Math.Round(state.Log, 10)).ThenBy(state => state.Blocked, InOrder.Comparer).Take(Wanted)];

    private readonly record struct Partial(double Log, int[] Blocked);

    private sealed class InOrder : IComparer<int[]>
    {
        public static InOrder Comparer { get; } = new();

        public int Compare(int[]? x, int[]? y)
        {
            for (var at = 0; at < Math.Min(x!.Length, y!.Length); at++)
            {
                if (x[at] != y[at])
                {
                    return x[at].CompareTo(y[at]);
                }
            }

            return x.Length.CompareTo(y!.Length);
        }
    }
}
