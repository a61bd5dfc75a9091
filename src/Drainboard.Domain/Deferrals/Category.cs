namespace Drainboard.Domain.Deferrals;

/// <summary>Rectification interval categories of an MEL. A has its interval in the item's remarks; the others in the policy.</summary>
public enum Category
{
    A,
    B,
    C,
    D,
}
