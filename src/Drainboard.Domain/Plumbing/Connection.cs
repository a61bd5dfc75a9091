using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Plumbing;

/// <summary>A pipe from one fixture to the next in the direction of flow.</summary>
public sealed record Connection(Water Water, Position From, Position To);
