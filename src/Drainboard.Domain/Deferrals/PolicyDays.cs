namespace Drainboard.Domain.Deferrals;

/// <summary>Consecutive calendar days per category; null where the operator must set it. A has its days in the item.</summary>
public sealed record PolicyDays(int? B, int? C, int? D)
{
    public int? For(Category category) => category switch
    {
        Category.A => null,
        Category.B => B,
        Category.C => C,
        Category.D => D,
    };
}
