namespace Drainboard.Domain.ShiftPlans;

/// <summary>Identity of a shift's plan. Equality by value; no order; the default is none.</summary>
public readonly record struct StationPlanId(Guid Value) : IId<StationPlanId>
{
    public static StationPlanId From(Guid value) => new(value);
}
