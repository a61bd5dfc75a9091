using Drainboard.Domain.Deferrals;
using Drainboard.Web.Features.Defects;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>How much of a clock is left, for the wick: whole days, the part left, and whether it is short or lapsed.</summary>
public sealed record ClockView(Instant StartsAt, Instant DueAt, double PartLeft, int Days, bool UnderADay, bool Lapsed, IReadOnlyList<ClockStep> Explanation)
{
    public static ClockView? Of(Deferral deferral, Instant now)
    {
        // A proposed one shows the clock that would run.
        var reading = deferral.ReadClock(deferral.Policy, DateTimeZoneProviders.Tzdb[deferral.Zone]);
        if (reading is null)
        {
            return null;
        }

        var (starts, due) = (deferral.StartsAt ?? reading.StartsAt, deferral.DueAt ?? reading.DueAt);
        var whole = (due - starts).TotalSeconds;
        return new ClockView(starts, due, Math.Clamp((due - now).TotalSeconds / whole, 0, 1), Math.Max(1, reading.Days), now < due && due - now < Duration.FromDays(1), now >= due, reading.Explanation);
    }
}

public sealed record DeferralView(
    Guid Id, BasisKind BasisKind, string BasisCode, string Title, string Revision, Category? Category, string Words, int Installed, int Required, IReadOnlyList<ConditionDone> Conditions, bool PlacardRequired, string PlacardText, bool PlacardFitted, string PlacardWhere,
    SignatureView? Control, string ControlReference, SignatureView? Certified, Instant RecordedAt, Instant ProposedAt, Instant? BeganAt, Instant? DueAt, Instant? EndedAt, string EndReason, IReadOnlyList<Extension> Extensions, int LongestExtension, string Policy, string Zone, IReadOnlyList<string> Missing, ClockView? Clock)
{
    public bool Running => BeganAt is not null && EndedAt is null;

    public static DeferralView Of(Deferral deferral, Instant now) => new(
        deferral.Id.Value, deferral.BasisKind, deferral.BasisCode, deferral.Basis.Title, deferral.Basis.Revision, deferral.Basis.Category, deferral.BasisWords(), deferral.Installed, deferral.Required, deferral.Conditions, deferral.Basis.PlacardRequired, deferral.Basis.PlacardText, deferral.PlacardFitted, deferral.PlacardWhere,
        SignatureView.Of(deferral.Control), deferral.ControlReference, SignatureView.Of(deferral.Certified), deferral.RecordedAt, deferral.ProposedAt, deferral.BeganAt, deferral.DueAt, deferral.EndedAt, deferral.EndReason, deferral.Extensions, deferral.LongestExtension, $"{deferral.PolicyName} {deferral.PolicyVersion}, {(deferral.TimeBase == TimeBase.Utc ? "UTC" : "station local")}", deferral.Zone,
        deferral.BeganAt is null ? [.. deferral.Missing().Select(missing => missing.Words)] : [], ClockView.Of(deferral, now));
}
