namespace Drainboard.Domain.Deferrals;

/// <summary>A yes or no for each category; null where the operator must set it.</summary>
public sealed record PerCategory(bool? A, bool? B, bool? C, bool? D)
{
    public static PerCategory Unset { get; } = new(null, null, null, null);

    public bool? For(Category category) => category switch
    {
        Category.A => A,
        Category.B => B,
        Category.C => C,
        Category.D => D,
    };
}
