using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>One flight as a clock counts it: initiated at off block, over at on block, with the flight time that is spread evenly between.</summary>
/// <param name="IsBlockTime">Nobody gave the flight time: the block time stands for it (never less, so the count is on the safe side).</param>
public readonly record struct ClockSector(Instant OffBlock, Instant OnBlock, Duration Flight, bool IsBlockTime)
{
    public static ClockSector Of(Instant offBlock, Instant onBlock, Duration? flight) => new(offBlock, onBlock, flight ?? onBlock - offBlock, flight is null);
}
