namespace Drainboard.Domain.ShiftPlans;

/// <summary>Somebody on the shift, from one minute of it (included) to another (excluded, the last work ends there).</summary>
public sealed record PlanTechnician(string Id, int From, int To, IReadOnlyList<string> Skills);
