namespace Drainboard.Domain.ShiftPlans;

/// <summary>Who does a task and when it begins, in minutes of the shift.</summary>
public sealed record PlanAssignment(string Task, string Technician, int Start);
