using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Features.SetUp;
using Drainboard.Web.Shell;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>The notice to the authority of an extended rectification interval, from what is on record (for example CS MMEL.105(f)).</summary>
internal static class ExtensionNoticeDraft
{
    /// <returns>Null where nothing was extended.</returns>
    public static Draft? Of(DefectView item, InstallationView installation)
    {
        if (item.Deferral is not { Extensions: [.., var extension] } deferral)
        {
            return null;
        }

        var original = deferral.DueAt is { } due ? due - Duration.FromDays(deferral.Extensions.Sum(one => one.Days)) : (Instant?)null;
        return new Draft(
            $"Notice of an extended rectification interval, {item.Tail} number {item.Number}",
            $"The authority is notified of an extension under policy {deferral.Policy}. An extension is no normal means: only events beyond the operator's control, and rectification at the earliest opportunity (CS MMEL.105(f)).",
            extension.NotifiedAt is { } told ? $"Told {Times.Utc(told)}{(extension.NoticeReference.Length > 0 ? $", {extension.NoticeReference}" : "")}." : extension.NotifyBy is { } by ? $"By {Times.Utc(by)}." : "The policy names no time.",
            Notices.Of(installation),
            [
                new("Operator and authority", [("Operator", installation.OperatorName), ("Authority and office", null), ("Contact", null)]),
                new("Item", [("Aircraft", item.Tail), ("MEL item", deferral.Words), ("Category", deferral.Category?.ToString()), ("Fixture", item.FixtureName), ("Defect", item.Symptom.Words()), ("Log", item.Log)]),
                new("Interval", [("Began", deferral.BeganAt is { } began ? Times.Utc(began) : null), ("First due (whole days before the date below)", original is { } was ? Times.Utc(was) : null), ("Extended by", $"{extension.Days} days"), ("Now due", deferral.DueAt is { } now ? Times.Utc(now) : null)]),
                new("Why and until when", [("Reason", extension.Reason), ("Approved by", extension.ApprovedBy), ("Approval of the authority beforehand", extension.Approval.Length > 0 ? extension.Approval : deferral.NeedsApproval ? null : "not asked for by the policy"), ("Plan to rectify at the earliest opportunity", null)]),
            ]);
    }
}
