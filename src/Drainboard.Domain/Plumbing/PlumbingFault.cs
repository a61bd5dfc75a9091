using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Plumbing;

/// <summary>What is wrong with a drawing, at which positions, and what to do about it.</summary>
public sealed record PlumbingFault(string Code, IReadOnlyList<Position> At, string Words);
