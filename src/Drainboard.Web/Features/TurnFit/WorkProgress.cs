using Drainboard.Data;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.TurnFit;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.TurnFit;

/// <summary>How far the work on the items of some tails has come: one statement, and one more each where a card is begun or work awaits its release.</summary>
internal static class WorkProgress
{
    public static async Task<IReadOnlyDictionary<DefectId, Progress>> ReadAsync(DrainboardDb db, IReadOnlyCollection<TailId> tails, IReadOnlyCollection<DefectId> done, Instant now, CancellationToken stop)
    {
        var known = new Dictionary<DefectId, Progress>();
        var jobs = await (from job in db.Jobs.AsNoTracking()
                          where tails.Contains(job.Tail) && job.EndedAt == null
                          join card in db.WorkCards.AsNoTracking() on job.Card equals card.Id
                          select new { job, card.Steps }).ToArrayAsync(stop);
        var ids = jobs.Select(one => one.job.Id).ToArray();
        var ticked = (ids.Length == 0 ? [] : await db.JobSteps.AsNoTracking().Where(step => ids.Contains(step.Job) && !step.IsOutdated).Select(step => new { step.Job, step.Step }).ToArrayAsync(stop)).ToLookup(step => step.Job, step => step.Step);
        foreach (var one in jobs)
        {
            var (work, checks) = (one.Steps.Where(step => !IsProof(step)).ToArray(), one.Steps.Where(IsProof).ToArray());
            var left = work.Length == 0 ? 0 : (double)work.Count(step => !ticked[one.job.Id].Contains(step.Key)) / work.Length;
            known[one.job.Defect] = new Progress(false, Math.Max(0, (now - one.job.StartedAt).TotalMinutes), left, checks.Length > 0 && checks.All(step => ticked[one.job.Id].Contains(step.Key)));
        }

        if (done.Count > 0)
        {
            foreach (var work in await db.Work.AsNoTracking().Where(work => done.Contains(work.Defect) && work.Release == null && work.ReturnReason == "").Select(work => new { work.Defect, Checked = work.OpsCheck != null && work.LeakCheck != null }).ToArrayAsync(stop))
            {
                known[work.Defect] = new Progress(true, null, 1, work.Checked);
            }
        }

        return known;
    }

    private static bool IsProof(CardStep step) => step.Check is StepCheck.OpsCheck or StepCheck.LeakCheck or StepCheck.TimedPour;
}
