using Drainboard.Domain.Deferrals;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>A stay ahead as control reads it: where, when, how long there is for work, and whether this item can be worked there.</summary>
public sealed record VisitView(string Station, string Zone, Instant ArrivesAt, Instant DepartsAt, int WorkMinutes, bool CanTake, string? WhyNot);

/// <summary>A flight that may not depart under a clock as it stands.</summary>
public sealed record BlockedFlight(string Sector, string From, string To, Instant OffBlock);

/// <summary>
/// One carried item as the fleet's controllers see it. Shared by every open page, so nothing in it belongs to a person.
/// </summary>
/// <param name="Blocked">The flights ahead that may not depart with it, the first three; <paramref name="BlockedCount"/> counts them all.</param>
public sealed record ClockLine(
    Guid Defect, Guid Deferral, int Number, string Tail, string Position, string FixtureName, string BasisCode, string Revision, Category? Category, bool Running, IReadOnlyList<string> Missing,
    ClockView? Clock, bool OpenEnded, int ExtendedDays, Instant? NotifyBy, Instant? ConditionDueAt, bool Renewal, int NeededMinutes,
    VisitView? Here, IReadOnlyList<VisitView> Next, VisitView? LastVisit, IReadOnlyList<BlockedFlight> Blocked, int BlockedCount)
{
    /// <summary>It lapses, and no planned stay can take it before.</summary>
    public bool Stranded => Running && Clock is { Lapsed: false } && LastVisit is null;

    public string? Station => (Here ?? (Next.Count > 0 ? Next[0] : null))?.Station;

    public string Zone => (Here ?? (Next.Count > 0 ? Next[0] : null))?.Zone ?? "Etc/UTC";
}
