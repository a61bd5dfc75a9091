using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.ShiftPlans;

/// <summary>What is known of an item when a shift is planned.</summary>
/// <param name="HoursToLapse">To the end of its deferral, below zero once lapsed; null where none runs.</param>
/// <param name="IsLastStay">No later stay can take it before it lapses.</param>
/// <param name="IsPlannedHere">Control plans it for this stay.</param>
/// <param name="OutOfKind">Fixtures of its kind that are not in order, itself included, of <paramref name="Installed"/>.</param>
public sealed record ItemFacts(FixtureKind Kind, DefectState State, bool Leaks, double? HoursToLapse, bool IsLastStay, bool IsPlannedHere, bool IsRepeat, int OutOfKind, int Installed);

/// <summary>What doing an item is worth in a shift's plan, and why. The weights are our choice; a lead overrules them by pinning.</summary>
public sealed record ItemWeight(int Value, IReadOnlyList<string> Reasons)
{
    /// <summary>So much is added for what a lead pins: it is left only where it cannot be done.</summary>
    public const int Pinned = 500;

    public static ItemWeight Of(ItemFacts item)
    {
        var parts = new List<(int Worth, string Why)> { item.State switch
        {
            DefectState.WorkDone => (25, "done, not released"),
            DefectState.Deferred => (4, "carried"),
            DefectState.Reported => (8, "new report"),
            DefectState.Open or DefectState.Closed => (10, "open"),
        } };
        if (item.Leaks)
        {
            parts.Add((40, "leaks"));
        }

        if (item.HoursToLapse is { } hours)
        {
            parts.Add(hours <= 0 ? (60, "lapsed: it does not depart") : hours <= 24 ? (30, "lapses within a day") : hours <= 72 ? (12, "lapses within three days") : (0, ""));
        }

        if (item is { IsLastStay: true, HoursToLapse: > 0 })
        {
            parts.Add((50, "last stay that can take it"));
        }

        if (item.IsPlannedHere)
        {
            parts.Add((20, "control plans it here"));
        }

        parts.Add(item.Kind switch
        {
            FixtureKind.Toilet => (10, "toilet"),
            FixtureKind.VacuumGenerator or FixtureKind.WasteTank or FixtureKind.PotableTank => (20, "serves many"),
            FixtureKind.GalleySink or FixtureKind.LavatoryBasin => (5, ""),
            _ => (3, ""),
        });
        if (item.Installed > 1 && 2 * item.OutOfKind >= item.Installed)
        {
            parts.Add((15, "half of its kind is out"));
        }

        if (item.IsRepeat)
        {
            parts.Add((8, "comes back"));
        }

        return new ItemWeight(parts.Sum(part => part.Worth), [.. parts.Where(part => part.Worth > 0 && part.Why.Length > 0).Select(part => part.Why)]);
    }
}
