namespace Drainboard.Domain.Deferrals;

/// <summary>Identity of a deferral basis in the operator's documents. Equality by value; no order; the default is none.</summary>
public readonly record struct BasisId(Guid Value) : IId<BasisId>
{
    public static BasisId From(Guid value) => new(value);
}
