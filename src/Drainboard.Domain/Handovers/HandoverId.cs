namespace Drainboard.Domain.Handovers;

/// <summary>Identity of one handover. Equality by value; no order; the default is none.</summary>
public readonly record struct HandoverId(Guid Value) : IId<HandoverId>
{
    public static HandoverId From(Guid value) => new(value);
}
