namespace Drainboard.Domain.Deferrals;

/// <summary>A thing that the item asks for before (and while) the defect is carried.</summary>
public sealed record BasisCondition(ConditionKind Kind, string Words);
