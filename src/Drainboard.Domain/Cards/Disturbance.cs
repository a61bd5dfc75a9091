namespace Drainboard.Domain.Cards;

/// <summary>What a step disturbs.</summary>
public sealed record Disturbance(DisturbedKind Kind, string Words);
