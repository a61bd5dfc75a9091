namespace Drainboard.Domain.Reliability;

/// <summary>An interval with both ends in it; <see cref="High"/> is infinite where nothing bounds it from above.</summary>
public readonly record struct Bounds(double Low, double High);
