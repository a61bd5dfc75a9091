using Drainboard.Domain.Defects;
using NodaTime;

namespace Drainboard.Domain.Recurrence;

/// <summary>
/// One write-up of a fixture, as the repeat rule sees it. Merged and mistaken ones are left out by the caller.
/// <see cref="ClosedAt"/> is set when work on it was released, with or without a fault found. <see cref="SectorsFlown"/> is the number of
/// sectors the tail had flown by then (only differences matter).
/// </summary>
public sealed record WriteUp(DefectId Defect, Symptom Symptom, Instant At, int SectorsFlown, Instant? ClosedAt, string ClosedHow);
