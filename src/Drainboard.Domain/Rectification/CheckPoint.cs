namespace Drainboard.Domain.Rectification;

/// <summary>One place that a leak check looked at.</summary>
public sealed record CheckPoint(string Where, bool Dry);
