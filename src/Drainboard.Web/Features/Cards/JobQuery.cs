using Drainboard.Data;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Cards;

/// <summary>The job that runs on an item, or the one whose work waits for its release.</summary>
public sealed class JobQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<JobView?> ReadAsync(DefectId id, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return await ReadAsync(db, id, stop);
    }

    /// <summary>One job of an item, running or not.</summary>
    public async Task<JobView?> ReadAsync(DefectId id, Guid job, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return await OpenJob.FindAsync(db, new JobId(job), stop) is { } open && open.Job.Defect == id ? JobView.Of(open, null) : null;
    }

    internal static async Task<JobView?> ReadAsync(DrainboardDb db, DefectId id, CancellationToken stop)
    {
        var work = await db.Work.AsNoTracking().Where(work => work.Defect == id && work.ReturnReason == "" && work.Outcome == null).OrderByDescending(work => work.RecordedAt).FirstOrDefaultAsync(stop);
        var open = work?.Card is { } card ? await OpenJob.FindAsync(db, card.Job, stop) : await OpenJob.RunningOnAsync(db, id, stop);
        return open is null ? null : JobView.Of(open, await ProvingPour.FindAsync(db, id, open.Job.StartedAt, stop) is { } pour ? ProvingPour.Words(pour) : null);
    }
}
