namespace Drainboard.Domain.Isolation;

/// <summary>
/// The segments as a tree: each drains into at most one other. Segments stand in an order in which each comes after the one that it
/// drains into, so that one pass up and one pass down see everything.
/// </summary>
public sealed class DrainTree
{
    private readonly Dictionary<string, int> _index;
    private readonly int[] _parents;

    private DrainTree(IReadOnlyList<DrainSegment> segments, IReadOnlyList<DrainOutlet> outlets, int[] parents, int[] order)
    {
        (Segments, Outlets, _parents, Order) = (segments, outlets, parents, order);
        _index = segments.Select((segment, at) => (segment.Id, at)).ToDictionary(pair => pair.Id, pair => pair.at, StringComparer.Ordinal);
        Children = [.. segments.Select((_, at) => order.Where(child => parents[child] == at).ToArray())];
        Depths = new int[segments.Count];
        foreach (var at in order)
        {
            Depths[at] = parents[at] < 0 ? 1 : Depths[parents[at]] + 1;
        }
    }

    public IReadOnlyList<DrainSegment> Segments { get; }

    public IReadOnlyList<DrainOutlet> Outlets { get; }

    /// <summary>Indexes of segments, mast or tank first.</summary>
    internal int[] Order { get; }

    internal int[][] Children { get; }

    /// <summary>How many segments lie between one and the end, itself included.</summary>
    internal int[] Depths { get; }

    internal int ParentOf(int segment) => _parents[segment];

    internal int IndexOf(string segment) => _index[segment];

    internal int EntryOf(DrainOutlet outlet) => _index[outlet.Path[0]];

    /// <summary>Builds the tree, or says which path does not fit: by its number in <paramref name="outlets"/>.</summary>
    public static (DrainTree? Tree, IReadOnlyList<(int Outlet, string Words)> Faults) Build(IReadOnlyList<DrainSegment> segments, IReadOnlyList<DrainOutlet> outlets)
    {
        var faults = new List<(int, string)>();
        var index = segments.Select((segment, at) => (segment.Id, at)).ToDictionary(pair => pair.Id, pair => pair.at, StringComparer.Ordinal);
        var parents = Enumerable.Repeat(-1, segments.Count).ToArray();
        var ends = new bool[segments.Count];
        for (var number = 0; number < outlets.Count; number++)
        {
            if (WhyNot(outlets[number], index) is { } words)
            {
                faults.Add((number, words));
                continue;
            }

            var path = outlets[number].Path.Select(id => index[id]).ToArray();
            for (var at = 0; at < path.Length; at++)
            {
                var next = at + 1 < path.Length ? path[at + 1] : -1;
                var fits = next < 0 ? parents[path[at]] < 0 : !ends[path[at]] && (parents[path[at]] < 0 || parents[path[at]] == next);
                if (!fits)
                {
                    faults.Add((number, $"{segments[path[at]].Id} drains elsewhere on another path. Every segment drains into one other, or is the last."));
                    break;
                }

                (parents[path[at]], ends[path[at]]) = (next, ends[path[at]] || next < 0);
            }
        }

        if (faults.Count > 0)
        {
            return (null, faults);
        }

        return Ordered(parents) is { } order
            ? (new DrainTree(segments, outlets, parents, order), [])
            : (null, [(0, "The paths run in a circle: water that leaves a segment comes back to it.")]);
    }

    private static string? WhyNot(DrainOutlet outlet, Dictionary<string, int> index) =>
        outlet.Path.Count == 0 ? $"{outlet.Id} has no path: say which segments it drains through."
        : outlet.Path.FirstOrDefault(id => !index.ContainsKey(id)) is { } unknown ? $"There is no segment \"{unknown}\"."
        : outlet.Path.Distinct(StringComparer.Ordinal).Count() != outlet.Path.Count ? $"The path of {outlet.Id} passes a segment twice."
        : null;

    /// <summary>Ends first; null when a circle keeps some from ever being placed.</summary>
    private static int[]? Ordered(int[] parents)
    {
        var placed = new bool[parents.Length];
        var order = new List<int>(parents.Length);
        for (var grew = true; grew;)
        {
            grew = false;
            for (var at = 0; at < parents.Length; at++)
            {
                if (!placed[at] && (parents[at] < 0 || placed[parents[at]]))
                {
                    placed[at] = grew = true;
                    order.Add(at);
                }
            }
        }

        return order.Count == parents.Length ? [.. order] : null;
    }
}
