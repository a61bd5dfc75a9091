namespace Drainboard.Domain.Rectification;

/// <summary>Identity of one piece of work on a defect. Equality by value; no order; the default is none.</summary>
public readonly record struct RectificationId(Guid Value) : IId<RectificationId>
{
    public static RectificationId From(Guid value) => new(value);
}
