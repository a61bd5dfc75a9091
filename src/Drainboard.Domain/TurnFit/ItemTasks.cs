using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.TurnFit;

/// <summary>What is left to do on one item before it can be signed.</summary>
public static class ItemTasks
{
    /// <summary>Ops check and leak check (common practice, no source, from memory).</summary>
    private static readonly TaskTime.ThreePoint Checks = new(3, 5, 10);

    /// <param name="jobs">Which jobs it may turn out to be.</param>
    public static IReadOnlyList<FitTask> Left(Fixture fixture, IReadOnlyList<JobTime> jobs, Progress progress, FitTerms terms)
    {
        var tasks = new List<FitTask>();
        if (!progress.IsDone)
        {
            var untouched = progress is { Begun: null };
            if (untouched && fixture.Kind.IsHot() && terms.CoolDownMinutes > 0)
            {
                tasks.Add(new("cool down", Sure(terms.CoolDownMinutes), "set here"));
            }

            if (untouched && terms.AccessMinutes > 0)
            {
                tasks.Add(new("access", new TaskTime.ThreePoint(0.5 * terms.AccessMinutes, terms.AccessMinutes, 2.5 * terms.AccessMinutes), "set here"));
            }

            if (progress.StepsLeft > 0)
            {
                var whole = new TaskTime.OneOf([.. jobs.Select(job => (job.Chance, job.Time))]);
                tasks.Add(new("find and put right", progress is { StepsLeft: 1, Begun: { } since } ? new TaskTime.Begun(whole, since) : progress.StepsLeft < 1 ? new TaskTime.PartOf(whole, progress.StepsLeft) : whole, Rests(jobs)));
            }
        }

        if (!progress.Checked)
        {
            tasks.Add(new("ops check and leak check", Checks, "common practice"));
        }

        return tasks;
    }

    private static string Rests(IReadOnlyList<JobTime> jobs)
    {
        var (here, all) = (jobs.Sum(job => job.OwnLayout), jobs.Sum(job => job.OwnFleet));
        return all == 0 ? "common practice" : $"{here} jobs of this layout, {all} of the fleet";
    }

    private static TaskTime.ThreePoint Sure(double minutes) => new(minutes, minutes, minutes);
}
