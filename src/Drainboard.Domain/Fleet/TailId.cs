namespace Drainboard.Domain.Fleet;

/// <summary>Identity of one aircraft for its whole life. Equality by value; no order; the default is none.</summary>
public readonly record struct TailId(Guid Value) : IId<TailId>
{
    public static TailId From(Guid value) => new(value);
}
