namespace Drainboard.Domain.Isolation;

/// <summary>A set of blocked segments, in the order in which segments were given, and its probability on the evidence.</summary>
public sealed record BlockedState(IReadOnlyList<string> Blocked, double Probability);
