namespace Drainboard.Domain.PotableWater;

/// <summary>Identity of a water case. Equality by value; no order; the default is none.</summary>
public readonly record struct WaterCaseId(Guid Value) : IId<WaterCaseId>
{
    public static WaterCaseId From(Guid value) => new(value);
}
