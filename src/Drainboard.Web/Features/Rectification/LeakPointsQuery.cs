using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Rectification;

/// <summary>Where to look for a leak after the work that stands on a defect.</summary>
public sealed class LeakPointsQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts)
{
    public async Task<IReadOnlyList<string>> ReadAsync(DefectId id, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var work = await db.Work.AsNoTracking().Where(work => work.Defect == id && work.ReturnReason == "" && work.Outcome == null).OrderByDescending(work => work.RecordedAt).Select(work => new { work.Tail, work.Position, work.FoundAt }).FirstOrDefaultAsync(stop);
        if (work is null)
        {
            return [];
        }

        var layout = await layouts.GetAsync(await db.Tails.Where(tail => tail.Id == work.Tail).Select(tail => tail.Layout).SingleAsync(stop), stop);
        return LeakPoints.For(layout, work.Position, work.FoundAt);
    }
}
