namespace Drainboard.Testing.Faults;

/// <summary>
/// Whether what clients saw of a defect could have come from one copy of it that answers one operation at a time (linearizability; Herlihy and Wing,
/// 1990), with a defect as a register that is written by compare-and-set on its version. Versions give the order of the writes, so this is decided
/// exactly and in one pass: every operation has a level, the version in force when it took effect, and levels never fall from one that had ended
/// to one that began later.
/// </summary>
public static class Histories
{
    /// <param name="initial">The version before the first operation.</param>
    /// <param name="operations">Everything that clients asked of one defect.</param>
    /// <returns>What is wrong with them; empty where they are linearizable.</returns>
    public static IReadOnlyList<string> Check(long initial, IEnumerable<Operation> operations)
    {
        var all = operations.OrderBy(one => one.Began).ToArray();
        var faults = new List<string>();
        var values = new Dictionary<long, string> { [initial] = "" };
        foreach (var write in all.Where(one => one.Kind == OperationKind.Written))
        {
            if (write.Version != write.Seen + 1)
            {
                faults.Add($"A write on version {write.Seen} made version {write.Version}.");
            }

            if (!values.TryAdd(write.Version, write.Value))
            {
                faults.Add($"Version {write.Version} was made twice.");
            }
        }

        for (var version = initial; version < initial + values.Count; version++)
        {
            if (!values.ContainsKey(version))
            {
                faults.Add($"Nobody wrote version {version}, and later ones were written.");
                break;
            }
        }

        foreach (var one in all.Where(one => one.Kind == OperationKind.Read && (!values.TryGetValue(one.Version, out var value) || value != one.Value)))
        {
            faults.Add($"Version {one.Version} was read as \"{one.Value}\", and {(values.TryGetValue(one.Version, out var value) ? $"written as \"{value}\"" : "never written")}.");
        }

        faults.AddRange(all.Where(one => one.Kind == OperationKind.Stale && !values.ContainsKey(one.Seen + 1)).Select(one => $"Version {one.Seen} was called stale, and nobody wrote a later one."));
        return faults.Count > 0 ? faults : InOrder(all);
    }

    private static List<string> InOrder(Operation[] all)
    {
        var faults = new List<string>();
        // The highest level of all that had ended before.
        var ending = new PriorityQueue<long, long>();
        var reached = long.MinValue;
        foreach (var one in all)
        {
            while (ending.TryPeek(out var level, out var at) && at < one.Began)
            {
                ending.Dequeue();
                reached = Math.Max(reached, level);
            }

            // What was called stale took effect at any later version than the one it had seen: the lowest that can be is taken.
            var mine = one.Kind == OperationKind.Stale ? Math.Max(one.Seen + 1, reached) : one.Version;
            if (reached > mine || (one.Kind == OperationKind.Written && reached == mine))
            {
                faults.Add($"{one.Kind} of version {one.Version} began after version {reached} had been seen.");
            }

            ending.Enqueue(mine, one.Ended);
        }

        return faults;
    }
}
