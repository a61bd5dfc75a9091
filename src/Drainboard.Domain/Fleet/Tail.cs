namespace Drainboard.Domain.Fleet;

/// <summary>One aircraft: its mark, the layout version it flies with, and its own deviations from it.</summary>
public sealed class Tail
{
    private Tail()
    {
    }

    public Tail(TailId id, Registration registration, LayoutId layout, IEnumerable<Deviation> deviations)
    {
        Id = id;
        Registration = registration;
        Set(layout, deviations);
    }

    public TailId Id { get; private set; }

    public Registration Registration { get; private set; }

    public LayoutId Layout { get; private set; }

    public IReadOnlyList<Deviation> Deviations { get; private set; } = [];

    public long Version { get; private set; }

    /// <summary>Takes the values of an import; answers whether anything differs.</summary>
    public bool Set(LayoutId layout, IEnumerable<Deviation> deviations)
    {
        var own = deviations.ToArray();
        var same = Layout == layout && Deviations.SequenceEqual(own);
        (Layout, Deviations) = (layout, own);
        return !same;
    }
}
