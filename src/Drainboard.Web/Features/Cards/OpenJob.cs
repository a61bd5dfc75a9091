using Drainboard.Data;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Cards;

/// <summary>A job with the version of the card that it is done to, the card's current version, and its steps so far.</summary>
public sealed record OpenJob(Job Job, WorkCard Card, WorkCard? Current, IReadOnlyList<JobStep> Steps)
{
    public static async Task<OpenJob?> RunningOnAsync(DrainboardDb db, DefectId defect, CancellationToken stop) =>
        await (from job in db.Jobs
               where job.Defect == defect && job.EndedAt == null
               join card in db.WorkCards on job.Card equals card.Id
               orderby job.StartedAt descending
               select new { Job = job, Card = card }).FirstOrDefaultAsync(stop) is { } found ? await WithStepsAsync(db, found.Job, found.Card, stop) : null;

    public static async Task<OpenJob?> FindAsync(DrainboardDb db, JobId id, CancellationToken stop) =>
        await db.Jobs.SingleOrDefaultAsync(job => job.Id == id, stop) is { } job ? await WithCardAsync(db, job, stop) : null;

    /// <summary>Every job that was ever begun on the item.</summary>
    public static async Task<IReadOnlyList<OpenJob>> AllOnAsync(DrainboardDb db, DefectId defect, CancellationToken stop)
    {
        var found = new List<OpenJob>();
        foreach (var job in await db.Jobs.Where(job => job.Defect == defect).OrderBy(job => job.StartedAt).ToArrayAsync(stop))
        {
            found.Add(await WithCardAsync(db, job, stop));
        }

        return found;
    }

    /// <summary>Every job since the last signature on the item: the one that runs, the one whose work waits, and any that was left; of the same card done again, the last.</summary>
    public static async Task<IReadOnlyList<OpenJob>> UnsignedOnAsync(DrainboardDb db, DefectId defect, CancellationToken stop)
    {
        var last = await db.Work.AsNoTracking().Where(work => work.Defect == defect && work.Outcome != null).ToArrayAsync(stop);
        var (signed, done) = (last.Select(work => work.RecordedAt).DefaultIfEmpty(Instant.MinValue).Max(), last.Select(work => work.Card?.Job).OfType<JobId>().ToHashSet());
        return [.. (await AllOnAsync(db, defect, stop)).Where(open => open.Job.StartedAt >= signed && !done.Contains(open.Job.Id)).GroupBy(open => open.Job.CardCode).Select(again => again.Last())];
    }

    private static async Task<OpenJob> WithCardAsync(DrainboardDb db, Job job, CancellationToken stop) =>
        await WithStepsAsync(db, job, await db.WorkCards.AsNoTracking().SingleAsync(card => card.Id == job.Card, stop), stop);

    private static async Task<OpenJob> WithStepsAsync(DrainboardDb db, Job job, WorkCard card, CancellationToken stop)
    {
        var current = card.IsCurrent ? card : await db.WorkCards.AsNoTracking().Where(other => other.Code == job.CardCode && other.IsCurrent).SingleOrDefaultAsync(stop);
        return new OpenJob(job, card, current, await db.JobSteps.Where(step => step.Job == job.Id).ToArrayAsync(stop));
    }
}
