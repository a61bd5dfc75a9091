namespace Drainboard.Domain.Cards;

/// <summary>Identity of one version of a work card. Equality by value; no order; the default is none.</summary>
public readonly record struct WorkCardId(Guid Value) : IId<WorkCardId>
{
    public static WorkCardId From(Guid value) => new(value);
}
