using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>What the person proposing a deferral enters: the numbers, what is done already, and the words.</summary>
public sealed record DeferralTerms(int Installed, int Required, IReadOnlyList<int> ConditionsDone, bool PlacardFitted, string PlacardWhere, string Words);
