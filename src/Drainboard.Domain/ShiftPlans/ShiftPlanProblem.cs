namespace Drainboard.Domain.ShiftPlans;

/// <summary>Who is there and what could be done. The best plan does what is worth most; a task is done once or left.</summary>
/// <param name="WalkMinutes">Between two tasks of one technician on different stands.</param>
public sealed record ShiftPlanProblem(IReadOnlyList<PlanTechnician> Technicians, IReadOnlyList<PlanTask> Tasks, int WalkMinutes)
{
    /// <summary>A start that moves by no more than this is no change.</summary>
    public const int FreeMove = 15;

    /// <summary>What people were told before: another technician, or a start moved by more than <see cref="FreeMove"/> minutes, costs <see cref="ChangeCost"/>.</summary>
    public IReadOnlyList<PlanAssignment> Previous { get; init; } = [];

    public int ChangeCost { get; init; }

    /// <summary>Minutes to walk from one task to the next.</summary>
    public int WalkBetween(PlanTask first, PlanTask second) => first.Stand.Length > 0 && first.Stand == second.Stand ? 0 : WalkMinutes;

    /// <summary>What a plan is worth: the weights of what is done, less what its changes cost.</summary>
    public int ValueOf(IReadOnlyCollection<PlanAssignment> assigned)
    {
        var now = assigned.ToDictionary(one => one.Task);
        return Tasks.Where(task => now.ContainsKey(task.Id)).Sum(task => task.Weight) - (ChangeCost * Previous.Count(before => now.TryGetValue(before.Task, out var after) && IsChange(before, after)));
    }

    public static bool IsChange(PlanAssignment before, PlanAssignment after) => before.Technician != after.Technician || Math.Abs(before.Start - after.Start) > FreeMove;
}
