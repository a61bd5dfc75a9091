namespace Drainboard.Domain.ShiftPlans;

/// <summary>A plan without a solver: the heaviest first, each as early as somebody can begin it. Serves where there is no solver, and is what the solver begins from.</summary>
public static class GreedyPlan
{
    public static ShiftPlan Make(ShiftPlanProblem problem)
    {
        var plan = new PlanBuilder(problem);
        var open = problem.Tasks.OrderByDescending(task => task.PinnedTo is not null || task.PinnedAt is not null).ThenByDescending(task => task.Weight).ThenBy(task => task.WindowTo - task.WindowFrom).ThenBy(task => task.Id, StringComparer.Ordinal).ToList();
        for (var placed = true; placed;)
        {
            placed = false;
            foreach (var task in open.ToArray())
            {
                var best = Candidates(problem, plan, task).OrderBy(one => one.Changes).ThenBy(one => one.Start).ThenBy(one => one.Who.Id, StringComparer.Ordinal).Cast<(PlanTechnician Who, int Start, bool Changes)?>().FirstOrDefault();
                if (best is { } one)
                {
                    plan.Place(task, one.Who, one.Start);
                    placed = open.Remove(task);
                }
            }
        }

        return ShiftPlan.Of(problem, plan.Assigned, problem.Tasks.Sum(task => task.Weight));
    }

    private static IEnumerable<(PlanTechnician Who, int Start, bool Changes)> Candidates(ShiftPlanProblem problem, PlanBuilder plan, PlanTask task)
    {
        var told = problem.ChangeCost > 0 ? problem.Previous.FirstOrDefault(before => before.Task == task.Id) : null;
        foreach (var who in problem.Technicians)
        {
            if (plan.FirstStart(task, who, told?.Technician == who.Id ? told.Start : 0) is { } start)
            {
                yield return (who, start, told is not null && ShiftPlanProblem.IsChange(told, new PlanAssignment(task.Id, who.Id, start)));
            }
        }
    }
}
