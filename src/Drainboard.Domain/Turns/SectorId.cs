namespace Drainboard.Domain.Turns;

/// <summary>Identity of a sector. Equality by value; no order; the default is none.</summary>
public readonly record struct SectorId(Guid Value) : IId<SectorId>
{
    public static SectorId From(Guid value) => new(value);
}
