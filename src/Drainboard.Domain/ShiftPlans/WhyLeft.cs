namespace Drainboard.Domain.ShiftPlans;

/// <summary>Why a task is left out of a plan, in words.</summary>
public static class WhyLeft
{
    public static string Of(ShiftPlanProblem problem, ShiftPlan plan, PlanTask task)
    {
        var skilled = problem.Technicians.Where(who => who.Skills.Contains(task.Skill)).ToArray();
        var able = skilled.Where(task.MayBeDoneBy).ToArray();
        if (skilled.Length == 0)
        {
            return "Nobody on this shift may do it.";
        }

        if (able.Length == 0)
        {
            return task.PinnedTo is { } pinned ? $"It is pinned to {pinned}, who may not do it or is not there." : "Everybody who may do it was ruled out.";
        }

        if (task.WindowTo - task.WindowFrom < task.Minutes)
        {
            return $"Its window has {Math.Max(0, task.WindowTo - task.WindowFrom)} min; it takes {task.Minutes}.";
        }

        if (able.All(who => task.Starts(who) is var (first, last) && last < first))
        {
            return task.PinnedAt is null ? "Nobody who may do it is there long enough in its window." : "It is pinned to a time at which nobody who may do it could begin.";
        }

        if (task.After.FirstOrDefault(before => plan.Left.Contains(before)) is { } missing)
        {
            return $"It follows {missing}, which is left as well.";
        }

        return "Everybody who may do it has work of more weight in its window.";
    }
}
