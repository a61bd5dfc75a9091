using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// What a clock is worked out from. <see cref="Zone"/> is used when the policy counts in local days. <see cref="IntervalDays"/>
/// is the item's own number, which rules over the policy's. <see cref="FixedEnd"/> is a date in the item's remarks.
/// </summary>
public sealed record ClockQuestion(
    DeferralPolicy Policy,
    Category Category,
    Instant RecordedAt,
    DateTimeZone Zone,
    int? IntervalDays = null,
    Instant? FixedEnd = null,
    int ExtensionDays = 0);
