namespace Drainboard.Domain.Pours;

/// <summary>Identity of a timed pour, made on the device that timed it. Equality by value; no order; the default is none.</summary>
public readonly record struct PourId(Guid Value) : IId<PourId>
{
    public static PourId From(Guid value) => new(value);
}
