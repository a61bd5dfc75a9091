using Drainboard.Domain.Deferrals;
using Drainboard.Web.Features.Defects;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>A condition, who did it last, and when it is due again where it repeats by days.</summary>
public sealed record ConditionView(ConditionKind Kind, string Words, string? By, Instant? At, int? EveryDays, bool EachDeparture, Instant? DueAt)
{
    public bool IsDone => At is not null;

    public bool IsRepeated => EveryDays is not null || EachDeparture;
}

public sealed record DeferralView(
    Guid Id, BasisKind BasisKind, string BasisCode, string Title, string Revision, Category? Category, string Words, int Installed, int Required, IReadOnlyList<ConditionView> Conditions, bool PlacardRequired, string PlacardText, bool PlacardFitted, string PlacardWhere,
    SignatureView? Control, string ControlReference, SignatureView? Certified, Instant RecordedAt, Instant ProposedAt, Instant? BeganAt, Instant? DueAt, Instant? EndedAt, string EndReason, IReadOnlyList<Extension> Extensions, int LongestExtension, bool NeedsApproval, string Policy, string Zone, Guid? RenewalOf, IReadOnlyList<string> Missing, ClockView? Clock, bool OpenEnded)
{
    public bool Running => BeganAt is not null && EndedAt is null;

    public Extension? AwaitingNotice => Extensions.FirstOrDefault(extension => extension is { NotifyBy: not null, NotifiedAt: null });

    public static DeferralView Of(Deferral deferral, Instant now)
    {
        var zone = deferral.DayZone();
        return new(
            deferral.Id.Value, deferral.BasisKind, deferral.BasisCode, deferral.Basis.Title, deferral.Basis.Revision, deferral.Basis.Category, deferral.BasisWords(), deferral.Installed, deferral.Required,
            [.. deferral.Conditions.Select(one => new ConditionView(one.Kind, one.Words, one.By, one.At, one.EveryDays, one.EachDeparture, one.DueAt(zone)))],
            deferral.Basis.PlacardRequired, deferral.Basis.PlacardText, deferral.PlacardFitted, deferral.PlacardWhere,
            SignatureView.Of(deferral.Control), deferral.ControlReference, SignatureView.Of(deferral.Certified), deferral.RecordedAt, deferral.ProposedAt, deferral.BeganAt, deferral.DueAt, deferral.EndedAt, deferral.EndReason, deferral.Extensions, deferral.LongestExtension,
            deferral is { Basis.Category: Domain.Deferrals.Category.A, Policy.ApprovalBeforeA: true }, $"{deferral.Policy.Name} {deferral.Policy.Version}, {PolicyWords.TimeBase(deferral.Policy)}", deferral.Zone, deferral.RenewalOf?.Value,
            deferral.BeganAt is null ? [.. deferral.Missing().Select(missing => missing.Words)] : [], ClockView.Of(deferral, now), deferral is { IsRunning: true, DueAt: null, Basis.Category: not null });
    }
}
