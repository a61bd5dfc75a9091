using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// One condition of a deferral, and who did it when; both null until it is done. One that repeats keeps the last time here, and every
/// time in the record.
/// </summary>
public sealed record ConditionDone(ConditionKind Kind, string Words, string? By, Instant? At, int? EveryDays = null, bool EachDeparture = false)
{
    public bool IsDone => At is not null;

    public bool IsRepeated => EveryDays is not null || EachDeparture;

    /// <summary>When it must be done again at the latest: the end of the last of its days after the day it was done; null where days do not rule it.</summary>
    /// <param name="zone">The zone whose days count.</param>
    public Instant? DueAt(DateTimeZone zone) =>
        At is { } at && EveryDays is { } days ? CalendarDays.Count(at, zone, days, true, CalendarStart.Midnight).DueAt : null;

    /// <summary>Whether it is to be done before the next departure: it was not done since the aircraft arrived, or its days end before the departure.</summary>
    public bool IsDueBefore(Instant departure, Instant arrival, DateTimeZone zone) =>
        !IsDone || (EachDeparture && At < arrival) || DueAt(zone) <= departure;
}
