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

                best[at][below] = Top(free, blocked);
            }
        }

        Partial[] whole = [new(0, [])];
        foreach (var end in tree.Order.Where(at => tree.ParentOf(at) < 0))
        {
            whole = Joined(whole, best[end][0]);
        }

        return [.. whole.Select(state => new BlockedState([.. state.Blocked.Select(at => tree.Segments[at].Id)], Math.Exp(state.Log - logEvidence)))];
    }

    /// <summary>The best of every pairing. Sets are built only for those that stay.</summary>
    private static Partial[] Joined(Partial[] left, Partial[] right)
    {
        var best = new List<Partial>(Wanted + 1);
        foreach (var one in left)
        {
            foreach (var other in right)
            {
                var log = one.Log + other.Log;
                if (!double.IsNegativeInfinity(log) && (best.Count < Wanted || Compare(log, best[^1].Log) <= 0))
                {
                    Place(best, new Partial(log, Merged(one.Blocked, other.Blocked)));
                }
            }
        }

        return [.. best];
    }

    private static Partial[] Top(Partial[] free, Partial[] blocked)
    {
        var best = new List<Partial>(Wanted + 1);
        foreach (var state in free.Concat(blocked))
        {
            if (!double.IsNegativeInfinity(state.Log))
            {
                Place(best, state);
            }
        }

        return [.. best];
    }

    private static void Place(List<Partial> best, Partial state)
    {
        var at = best.Count;
        while (at > 0 && (Compare(state.Log, best[at - 1].Log), CompareSets(state.Blocked, best[at - 1].Blocked)) is (< 0, _) or (0, < 0))
        {
            at--;
        }

        best.Insert(at, state);
        if (best.Count > Wanted)
        {
            best.RemoveAt(Wanted);
        }
    }

    /// <summary>The likelier first; what differs by rounding alone is alike.</summary>
    private static int Compare(double left, double right) => Math.Abs(left - right) < 1e-10 ? 0 : right.CompareTo(left);

    private static int[] Merged(int[] left, int[] right)
    {
        if (left.Length == 0 || right.Length == 0)
        {
            return left.Length == 0 ? right : left;
        }

        var all = new int[left.Length + right.Length];
        left.CopyTo(all, 0);
        right.CopyTo(all, left.Length);
        Array.Sort(all);
        return all;
    }

    private static int CompareSets(int[] left, int[] right)
    {
        for (var at = 0; at < Math.Min(left.Length, right.Length); at++)
        {
            if (left[at] != right[at])
            {
                return left[at].CompareTo(right[at]);
            }
        }

        return left.Length.CompareTo(right.Length);
    }

    private readonly record struct Partial(double Log, int[] Blocked);
}
