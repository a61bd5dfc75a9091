namespace Drainboard.Domain.Isolation;

/// <summary>A fixture and the segments that it drains through, from its own strainer down to the mast or tank.</summary>
public sealed record DrainOutlet(string Id, IReadOnlyList<string> Path);
