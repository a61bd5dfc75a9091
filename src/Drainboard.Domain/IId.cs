namespace Drainboard.Domain;

/// <summary>
/// A strongly typed identity over a version 7 UUID. Equality is that of the UUID; there is no order (an id is never used
/// to sort: a clock of another device may have made it). The default value is no identity and is never stored.
/// </summary>
public interface IId<TSelf>
    where TSelf : struct, IId<TSelf>
{
    Guid Value { get; }

    static abstract TSelf From(Guid value);
}
