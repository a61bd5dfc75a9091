using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.PlannedChecks;

/// <summary>A planned check that is due at a stay.</summary>
/// <param name="Fixture">Null: the whole aircraft.</param>
/// <param name="LastAt">When it was done last; null: never on record.</param>
/// <param name="DueAt">By when it is to be done.</param>
public sealed record CheckDue(PlannedCheck Check, Fixture? Fixture, Instant? LastAt, Instant DueAt, CheckReason Reason)
{
    public string Name => Fixture?.Name ?? "The whole aircraft";

    public bool IsOverdue(Instant now) => DueAt < now;
}
