namespace Drainboard.Domain.ShiftPlans;

/// <summary>A plan, and how good it is known to be.</summary>
/// <param name="Assigned">In order of start, then by task.</param>
/// <param name="Left">In the order of the problem.</param>
/// <param name="Bound">No plan is worth more than this.</param>
/// <param name="Proven">No plan is worth more than this one.</param>
public sealed record ShiftPlan(IReadOnlyList<PlanAssignment> Assigned, IReadOnlyList<string> Left, int Objective, int Bound, bool Proven)
{
    public static ShiftPlan Of(ShiftPlanProblem problem, IReadOnlyCollection<PlanAssignment> assigned, int bound)
    {
        // Whatever a planner says, none does more than everything.
        bound = Math.Min(bound, problem.Tasks.Sum(task => task.Weight));
        var (done, value) = (assigned.Select(one => one.Task).ToHashSet(), problem.ValueOf(assigned));
        return new ShiftPlan([.. assigned.OrderBy(one => one.Start).ThenBy(one => one.Task, StringComparer.Ordinal)], [.. problem.Tasks.Where(task => !done.Contains(task.Id)).Select(task => task.Id)], value, Math.Max(bound, value), bound <= value);
    }

    /// <summary>How far from the bound, as a part of it; zero where proven.</summary>
    public double Gap => Proven || Bound <= 0 ? 0 : (double)(Bound - Objective) / Bound;
}
