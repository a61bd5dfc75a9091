namespace Drainboard.Domain.Deferrals;

/// <summary>A thing that the item asks for before (and while) the defect is carried.</summary>
/// <param name="EveryDays">Done again so many calendar days after the last time; null: not by days.</param>
/// <param name="EachDeparture">Done again before each departure.</param>
public sealed record BasisCondition(ConditionKind Kind, string Words, int? EveryDays = null, bool EachDeparture = false);
