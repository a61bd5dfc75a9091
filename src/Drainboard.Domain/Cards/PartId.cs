namespace Drainboard.Domain.Cards;

/// <summary>Identity of one part used or awaited. Equality by value; no order; the default is none.</summary>
public readonly record struct PartId(Guid Value) : IId<PartId>
{
    public static PartId From(Guid value) => new(value);
}
