namespace Drainboard.Domain.ShiftPlans;

/// <summary>The same plan with every task as early as its order allows, but none before the time that people were told.</summary>
public static class EarlyStarts
{
    public static IReadOnlyCollection<PlanAssignment> Of(ShiftPlanProblem problem, IReadOnlyCollection<PlanAssignment> assigned)
    {
        var (tasks, people, told) = (problem.Tasks.ToDictionary(task => task.Id), problem.Technicians.ToDictionary(one => one.Id), problem.Previous.ToDictionary(one => one.Task));
        var plan = new PlanBuilder(problem);
        foreach (var one in assigned.OrderBy(one => one.Start).ThenBy(one => one.Task, StringComparer.Ordinal))
        {
            var (task, who) = (tasks[one.Task], people[one.Technician]);
            var keep = problem.ChangeCost > 0 && told.TryGetValue(one.Task, out var before) && before.Technician == one.Technician ? Math.Min(one.Start, before.Start) : 0;
            plan.Place(task, who, Math.Min(one.Start, plan.FirstStart(task, who, keep) ?? one.Start));
        }

        return plan.Assigned;
    }
}
