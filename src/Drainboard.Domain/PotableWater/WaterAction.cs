using NodaTime;

namespace Drainboard.Domain.PotableWater;

/// <summary>One action that the rule asks for.</summary>
/// <param name="DueAt">Included: done at this instant is in time. Null: no time of its own; <paramref name="Before"/> says what it must come before.</param>
/// <param name="Way">Where the rule leaves a choice, to which of the ways it belongs: all of one way are done. Null: always.</param>
/// <param name="Before">What must not happen until it is done; empty where there is nothing.</param>
public sealed record WaterAction(WaterAct Act, Instant? DueAt, string? Way, string Before, string Source);
