namespace Drainboard.Domain.PotableWater;

/// <summary>Identity of a thing done for an aircraft's drinking water, made on the device. Equality by value; no order; the default is none.</summary>
public readonly record struct WaterDeedId(Guid Value) : IId<WaterDeedId>
{
    public static WaterDeedId From(Guid value) => new(value);
}
