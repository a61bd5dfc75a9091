namespace Drainboard.Domain.Fleet;

/// <summary>Identity of one version of a cabin layout. Equality by value; no order; the default is none.</summary>
public readonly record struct LayoutId(Guid Value) : IId<LayoutId>
{
    public static LayoutId From(Guid value) => new(value);
}
