using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// What a running clock means for the plan. Ordered as control works: lapsed first, then those that no planned stay can take before they
/// lapse, then by due time, those without an end last.
/// </summary>
/// <param name="LastVisit">The last stay that can take it in time; null where there is none, or no end to be in time for.</param>
public readonly record struct ClockOutlook(Instant? DueAt, bool Lapsed, Visit? LastVisit) : IComparable<ClockOutlook>
{
    /// <summary>It lapses, and no stay that is planned can take it before.</summary>
    public bool Stranded => DueAt is not null && LastVisit is null;

    private int Rank => Lapsed ? 0 : Stranded ? 1 : 2;

    public static ClockOutlook Of(Instant? dueAt, WorkNeed need, VisitPlan plan, Instant now) =>
        dueAt is not { } due ? new ClockOutlook(null, false, null)
        : due <= now ? new ClockOutlook(due, true, null)
        : new ClockOutlook(due, false, plan.LastThatCanTake(need, now, due));

    public static bool operator <(ClockOutlook left, ClockOutlook right) => left.CompareTo(right) < 0;

    public static bool operator >(ClockOutlook left, ClockOutlook right) => left.CompareTo(right) > 0;

    public static bool operator <=(ClockOutlook left, ClockOutlook right) => left.CompareTo(right) <= 0;

    public static bool operator >=(ClockOutlook left, ClockOutlook right) => left.CompareTo(right) >= 0;

    public int CompareTo(ClockOutlook other)
    {
        var byRank = Rank.CompareTo(other.Rank);
        return byRank != 0 ? byRank : (DueAt ?? Instant.MaxValue).CompareTo(other.DueAt ?? Instant.MaxValue);
    }
}
