namespace Drainboard.Domain.ShiftPlans;

/// <summary>A plan that grows task by task: when each could begin with what is placed so far.</summary>
internal sealed class PlanBuilder(ShiftPlanProblem problem)
{
    private readonly Dictionary<string, (PlanTask Task, string Who, int Start)> _placed = [];

    public IReadOnlyCollection<PlanAssignment> Assigned => [.. _placed.Values.Select(one => new PlanAssignment(one.Task.Id, one.Who, one.Start))];

    public bool Has(string task) => _placed.ContainsKey(task);

    public void Place(PlanTask task, PlanTechnician who, int start) => _placed[task.Id] = (task, who.Id, start);

    /// <summary>The first minute, not before another, at which this technician could begin it; null where there is none.</summary>
    public int? FirstStart(PlanTask task, PlanTechnician who, int notBefore = 0)
    {
        if (!task.MayBeDoneBy(who) || !task.After.All(_placed.ContainsKey))
        {
            return null;
        }

        var (first, last) = task.Starts(who);
        var start = Math.Max(Math.Max(first, notBefore), task.After.Select(before => End(_placed[before])).DefaultIfEmpty(0).Max());
        while (start <= last)
        {
            var blocking = _placed.Values.Where(other => Clash(task, who.Id, start, other)).ToArray();
            if (blocking.Length == 0)
            {
                return start;
            }

            start = blocking.Max(other => End(other) + (other.Who == who.Id ? problem.WalkBetween(other.Task, task) : 0));
        }

        return null;
    }

    private bool Clash(PlanTask task, string who, int start, (PlanTask Task, string Who, int Start) other)
    {
        var end = start + task.Minutes;
        var walk = problem.WalkBetween(other.Task, task);
        return (other.Who == who && start < End(other) + walk && other.Start < end + walk)
            || (task.Access.Length > 0 && other.Task.Access == task.Access && start < End(other) && other.Start < end)
            || (other.Task.After.Contains(task.Id) && other.Start < end);
    }

    private static int End((PlanTask Task, string Who, int Start) one) => one.Start + one.Task.Minutes;
}
