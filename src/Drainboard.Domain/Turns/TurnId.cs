namespace Drainboard.Domain.Turns;

/// <summary>Identity of a turn. Equality by value; no order; the default is none.</summary>
public readonly record struct TurnId(Guid Value) : IId<TurnId>
{
    public static TurnId From(Guid value) => new(value);
}
