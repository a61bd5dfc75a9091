using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>The stand and times of a turn. An estimated departure is never before the estimated arrival.</summary>
public sealed record TurnTimes(string Stand, Instant EstimatedArrival, Instant EstimatedDeparture, Instant? OnBlocks, Instant? OffBlocks);
