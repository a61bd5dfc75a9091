namespace Drainboard.Domain.Isolation;

/// <summary>A part of a drain that can be blocked, and how likely it is before anything is tested (0 to 1).</summary>
public sealed record DrainSegment(string Id, double Prior);
