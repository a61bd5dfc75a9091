using Drainboard.Domain.ShiftPlans;

namespace Drainboard.Domain.Tests.ShiftPlans;

/// <summary>The best plan by trying every order and every technician, each task as early as it can be. For a handful of tasks only; knows nothing of the planners.</summary>
internal static class Exhaustive
{
    public static int Best(ShiftPlanProblem problem) => Try(problem, []);

    private static int Try(ShiftPlanProblem problem, List<PlanAssignment> so)
    {
        var best = problem.ValueOf(so);
        foreach (var task in problem.Tasks.Where(task => so.All(one => one.Task != task.Id)))
        {
            foreach (var who in problem.Technicians.Where(task.MayBeDoneBy))
            {
                if (Earliest(problem, so, task, who) is { } start)
                {
                    so.Add(new PlanAssignment(task.Id, who.Id, start));
                    best = Math.Max(best, Try(problem, so));
                    so.RemoveAt(so.Count - 1);
                }
            }
        }

        return best;
    }

    private static int? Earliest(ShiftPlanProblem problem, List<PlanAssignment> so, PlanTask task, PlanTechnician who)
    {
        var tasks = problem.Tasks.ToDictionary(one => one.Id);
        var (start, last) = task.Starts(who);
        if (task.After.Any(before => so.All(one => one.Task != before)))
        {
            return null;
        }

        foreach (var one in so)
        {
            var (other, end) = (tasks[one.Task], one.Start + tasks[one.Task].Minutes);
            start = one.Technician == who.Id ? Math.Max(start, end + problem.WalkBetween(other, task)) : start;
            start = task.After.Contains(one.Task) || (task.Access.Length > 0 && task.Access == other.Access) ? Math.Max(start, end) : start;
        }

        return start <= last ? start : null;
    }
}
