namespace Drainboard.Domain.Defects;

/// <summary>Identity of a defect. Equality by value; no order; the default is none.</summary>
public readonly record struct DefectId(Guid Value) : IId<DefectId>
{
    public static DefectId From(Guid value) => new(value);
}
