using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>One limit of a category A item: so many units (<see cref="Count"/>, more than zero; whole but for flight hours), or a fixed instant (<see cref="At"/>).</summary>
public sealed record ClockLimit(ClockUnit Unit, decimal? Count, Instant? At)
{
    public Refusal? WhyNot() => (Unit, Count, At) switch
    {
        (ClockUnit.FixedDate, null, not null) => null,
        (ClockUnit.FixedDate, _, _) => new Refusal("limit", "A fixed date has an instant \"at\" and no count."),
        (_, null or <= 0 or > 100_000, _) or (_, _, not null) => new Refusal("limit", $"A limit in {Unit.Words()} has a count above zero, and no instant."),
        (not ClockUnit.FlightHours, { } count, _) when count != decimal.Truncate(count) => new Refusal("limit", $"A limit in {Unit.Words()} is a whole number."),
        _ => null,
    };

    public string Words => Unit == ClockUnit.FixedDate ? "a fixed date" : $"{Count:0.##} {Unit.Words()}";
}
