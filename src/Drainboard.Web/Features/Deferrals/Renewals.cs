using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Recurrence;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>
/// Finds the like deferral of this fixture that ended inside the repeat window: same basis, or a defect of the same family of symptoms. A
/// new clock so soon may only renew the old one, and control is asked.
/// </summary>
internal static class Renewals
{
    public static async Task<Deferral?> FindAsync(DrainboardDb db, Defect defect, DeferralBasis basis, Instant now, CancellationToken stop)
    {
        var rule = RepeatRule.Find(await db.Installations.Select(installation => installation.RepeatRule).SingleAsync(stop));
        var since = rule.LooksBackTo(now);
        var ended = await (from deferral in db.Deferrals.AsNoTracking()
                           where deferral.Tail == defect.Tail && deferral.EndedAt != null && deferral.EndedAt >= since && deferral.BeganAt != null && deferral.Defect != defect.Id
                           join other in db.Defects.AsNoTracking() on deferral.Defect equals other.Id
                           where other.Position == defect.Position
                           orderby deferral.EndedAt descending
                           select new { deferral, other.Symptom }).ToArrayAsync(stop);
        return ended.FirstOrDefault(one => one.deferral.BasisCode == basis.Code || one.Symptom.Family() == defect.Symptom.Family())?.deferral;
    }
}
