using NodaTime;

namespace Drainboard.Domain.PlannedChecks;

/// <summary>A check of a walk-round and when there is time for it; without a time it does not fit into the stay.</summary>
public sealed record RoundSlot(CheckDue Due, Instant? From, Instant? To)
{
    public bool Fits => From is not null;
}
