using NodaTime;

namespace Drainboard.Domain.Fleet;

/// <summary>One aircraft: its mark, the layout version it flies with, and its own deviations from it.</summary>
public sealed class Tail
{
    private Tail()
    {
    }

    public Tail(TailId id, Registration registration, LayoutId layout, IEnumerable<Deviation> deviations, LocalDate? deliveredOn = null)
    {
        Id = id;
        Registration = registration;
        Set(layout, deviations, deliveredOn);
    }

    public TailId Id { get; private set; }

    public Registration Registration { get; private set; }

    public LayoutId Layout { get; private set; }

    public IReadOnlyList<Deviation> Deviations { get; private set; } = [];

    /// <summary>The day it joined the fleet, in UTC, where that is known: nothing about it is recorded before.</summary>
    public LocalDate? DeliveredOn { get; private set; }

    /// <summary>The code of the drinking water programme that it is kept under; empty: none yet.</summary>
    public string WaterProgramme { get; private set; } = "";

    public long Version { get; private set; }

    /// <summary>Takes the values of an import; answers whether anything differs.</summary>
    public bool Set(LayoutId layout, IEnumerable<Deviation> deviations, LocalDate? deliveredOn)
    {
        var own = deviations.ToArray();
        var same = Layout == layout && Deviations.SequenceEqual(own) && DeliveredOn == deliveredOn;
        (Layout, Deviations, DeliveredOn) = (layout, own, deliveredOn);
        return !same;
    }

    public void KeepWaterBy(string programme) => WaterProgramme = programme;

    /// <summary>Why nothing can have happened to it then: it was not here yet.</summary>
    public Refusal? WhyNotAt(Instant at) =>
        DeliveredOn is { } day && at.InUtc().Date < day
            ? new Refusal("before-delivery", $"{Registration} joined the fleet on {day:uuuu-MM-dd}; this time lies before it. Check the date.")
            : null;
}
