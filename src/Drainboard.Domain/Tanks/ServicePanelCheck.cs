namespace Drainboard.Domain.Tanks;

/// <summary>What whoever leaves a service panel has looked at.</summary>
/// <param name="CapClosed">The cap is on and locked.</param>
/// <param name="DoorClosed">The panel's door is closed and latched.</param>
/// <param name="Leak">Where a leak or a streak was seen; empty: none.</param>
public sealed record ServicePanelCheck(bool CapClosed, bool DoorClosed, string Leak)
{
    public const int LongestLeak = 200;

    public Refusal? WhyNot() =>
        !CapClosed || !DoorClosed ? new Refusal("panel-open", "The cap is on and the door is latched before it is saved: an open panel does not depart. If it cannot be closed, write it up.")
        : Leak.Trim().Length > LongestLeak ? new Refusal("leak-words", $"Say where it leaks in up to {LongestLeak} characters.")
        : null;
}
