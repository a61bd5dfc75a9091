namespace Drainboard.Domain.Cards;

/// <summary>Identity of one job done to a work card. Equality by value; no order; the default is none.</summary>
public readonly record struct JobId(Guid Value) : IId<JobId>
{
    public static JobId From(Guid value) => new(value);
}
