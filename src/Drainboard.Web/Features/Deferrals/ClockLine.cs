using Drainboard.Domain.Deferrals;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>A stay ahead as control reads it: where, when, how long there is for work, and whether this item can be worked there.</summary>
public sealed record VisitView(string Station, string Zone, Instant ArrivesAt, Instant DepartsAt, int WorkMinutes, bool CanTake, string? WhyNot)
{
    /// <param name="due">When the item lapses; null: never.</param>
    internal static VisitView Of(Visit visit, WorkNeed need, string zone, Instant? due, Instant now)
    {
        var free = visit.MinutesBetween(need.Place, now, due ?? Instant.MaxValue);
        var can = visit.CanTake(need, now, due ?? Instant.MaxValue);
        return new VisitView(visit.Station.Value, zone, visit.ArrivesAt, visit.DepartsAt, free, can, can ? null : (visit.Abilities & need.Ability) != need.Ability ? "cannot do this kind of work" : due <= visit.ArrivesAt ? "after it lapses" : $"{free} min for work, about {need.Minutes} needed");
    }
}

/// <summary>The stay for which control's plan of the network has an item.</summary>
public sealed record PlannedStay(string Station, string Zone, Instant ArrivesAt, bool IsOver);

/// <summary>A flight that may not depart under a clock as it stands.</summary>
public sealed record BlockedFlight(string Sector, string From, string To, Instant OffBlock);

/// <summary>
/// One carried item as the fleet's controllers see it. Shared by every open page, so nothing in it belongs to a person.
/// </summary>
/// <param name="Blocked">The flights of the coming week that may not depart with it, the first three; <paramref name="BlockedCount"/> counts them all.</param>
public sealed record ClockLine(
    Guid Defect, Guid Deferral, int Number, string Tail, string Position, string FixtureName, string BasisCode, string Revision, Category? Category, bool Running, IReadOnlyList<string> Missing,
    ClockView? Clock, bool OpenEnded, int ExtendedDays, Instant? NotifyBy, Instant? ConditionDueAt, bool Renewal, int NeededMinutes,
    VisitView? Here, IReadOnlyList<VisitView> Next, VisitView? LastVisit, PlannedStay? Planned, IReadOnlyList<BlockedFlight> Blocked, int BlockedCount)
{
    /// <summary>It lapses, and no planned stay can take it before.</summary>
    public bool Stranded => Running && Clock is { Lapsed: false } && LastVisit is null;

    public string? Station => (Here ?? (Next.Count > 0 ? Next[0] : null))?.Station;

    public string Zone => (Here ?? (Next.Count > 0 ? Next[0] : null))?.Zone ?? "Etc/UTC";
}
