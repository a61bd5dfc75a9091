namespace Drainboard.Domain.Cards;

/// <summary>Identity of one disturbed thing. Equality by value; no order; the default is none.</summary>
public readonly record struct DisturbedId(Guid Value) : IId<DisturbedId>
{
    public static DisturbedId From(Guid value) => new(value);
}
