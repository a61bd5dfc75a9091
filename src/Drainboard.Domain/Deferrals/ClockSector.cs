using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>One flight as a clock counts it: initiated at off block, over at on block, with the flight time that is spread evenly between.</summary>
/// <param name="IsBlockTime">Nobody gave the flight time: the block time stands for it (never less, so the count is on the safe side).</param>
public readonly record struct ClockSector(Instant OffBlock, Instant OnBlock, Duration Flight, bool IsBlockTime)
{
    /// <summary>The same flight, not off before an instant: one that should have left and has not is late by that much on arrival too.</summary>
    public ClockSector NotBefore(Instant now) => OffBlock >= now ? this : this with { OffBlock = now, OnBlock = OnBlock + (now - OffBlock) };

    public static ClockSector Of(Instant offBlock, Instant onBlock, Duration? flight) => new(offBlock, onBlock, flight ?? onBlock - offBlock, flight is null);
}
