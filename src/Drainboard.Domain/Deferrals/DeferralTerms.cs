namespace Drainboard.Domain.Deferrals;

/// <summary>What the person proposing a deferral enters: the numbers, what is done already, the words, and whether it is no more than dirty or soiled.</summary>
public sealed record DeferralTerms(int Installed, int Required, IReadOnlyList<int> ConditionsDone, bool PlacardFitted, string PlacardWhere, string Words, bool OnlySoiled = false);
