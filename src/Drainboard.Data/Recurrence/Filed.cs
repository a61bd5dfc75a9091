using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Recurrence;
using NodaTime;

namespace Drainboard.Data.Recurrence;

/// <summary>A defect as far as repeat rules ask about it.</summary>
internal sealed record Filed(DefectId Id, Position Position, Symptom Symptom, Instant RecordedAt, Instant? ClosedAt, Closure? Closure, RepeatFlag? Repeat)
{
    public bool IsWriteUp { get; } = Closures.OfWriteUps.Contains(Closure);

    public static Filed Of(Defect defect) => new(defect.Id, defect.Position, defect.Symptom, defect.RecordedAt, defect.ClosedAt, defect.Closure, defect.Repeat);
}
