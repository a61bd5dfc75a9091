using Drainboard.Data;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Cards;

/// <summary>A job with the version of the card that it is done to, the card's current version, and its steps so far.</summary>
public sealed record OpenJob(Job Job, WorkCard Card, WorkCard? Current, IReadOnlyList<JobStep> Steps)
{
    public static async Task<OpenJob?> RunningOnAsync(DrainboardDb db, DefectId defect, CancellationToken stop) =>
        await db.Jobs.Where(job => job.Defect == defect && job.EndedAt == null).OrderByDescending(job => job.StartedAt).FirstOrDefaultAsync(stop) is { } job ? await WithCardAsync(db, job, stop) : null;

    public static async Task<OpenJob?> FindAsync(DrainboardDb db, JobId id, CancellationToken stop) =>
        await db.Jobs.SingleOrDefaultAsync(job => job.Id == id, stop) is { } job ? await WithCardAsync(db, job, stop) : null;

    private static async Task<OpenJob> WithCardAsync(DrainboardDb db, Job job, CancellationToken stop)
    {
        var card = await db.WorkCards.AsNoTracking().SingleAsync(card => card.Id == job.Card, stop);
        var current = card.IsCurrent ? card : await db.WorkCards.AsNoTracking().Where(other => other.Code == job.CardCode && other.IsCurrent).SingleOrDefaultAsync(stop);
        return new OpenJob(job, card, current, await db.JobSteps.Where(step => step.Job == job.Id).ToArrayAsync(stop));
    }
}
