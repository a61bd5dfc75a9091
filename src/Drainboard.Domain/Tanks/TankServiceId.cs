namespace Drainboard.Domain.Tanks;

/// <summary>Identity of a service of a tank, made on the device. Equality by value; no order; the default is none.</summary>
public readonly record struct TankServiceId(Guid Value) : IId<TankServiceId>
{
    public static TankServiceId From(Guid value) => new(value);
}
