using NodaTime;

namespace Drainboard.Domain.PlannedChecks;

/// <summary>What the pours of one fixture say of the drain below it.</summary>
/// <param name="PouredAt">When it was last poured.</param>
/// <param name="IsSlow">The newest pour was slow.</param>
/// <param name="Crosses">When a falling trend meets the limit; null: it does not fall, or cannot be told.</param>
public sealed record DrainCall(Instant PouredAt, bool IsSlow, Instant? Crosses);
