namespace Drainboard.Domain.Reliability;

/// <summary>One fixture watched from time zero to <paramref name="End"/> (its own, whatever its unit), and when its faults came.</summary>
public sealed record ObservedUnit(IReadOnlyList<double> Faults, double End);
