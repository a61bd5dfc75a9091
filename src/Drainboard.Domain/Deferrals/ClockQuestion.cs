using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// What a clock is worked out from.
/// </summary>
/// <param name="Zone">The zone of the station where it was proposed; used when the policy counts local days.</param>
/// <param name="IntervalDays">The item's own number of calendar days, which rules over the policy's.</param>
public sealed record ClockQuestion(DeferralPolicy Policy, Category Category, Instant RecordedAt, DateTimeZone Zone, int? IntervalDays = null)
{
    /// <summary>The limits of a category A item; whichever comes first.</summary>
    public IReadOnlyList<ClockLimit> Limits { get; init; } = [];

    /// <summary>Days that were granted before and stand; they are not judged again.</summary>
    public int GrantedDays { get; init; }

    /// <summary>Extensions to be judged under the policy, one after another.</summary>
    public IReadOnlyList<ClockExtension> Extensions { get; init; } = [];

    /// <summary>The tail's flights, flown and planned, in order of off block and without overlap.</summary>
    public IReadOnlyList<ClockSector> Sectors { get; init; } = [];

    /// <summary>The moment of deferral, from which hours and cycles count; the recorded time where it is not said.</summary>
    public Instant? DeferredAt { get; init; }

    /// <summary>Up to when units are counted as used; null: none are.</summary>
    public Instant? AsOf { get; init; }

    /// <summary>The limits that rule: the category's days, or the item's own.</summary>
    public IReadOnlyList<ClockLimit> Ruling =>
        Category == Category.A
            ? [.. IntervalDays is { } own ? [new ClockLimit(ClockUnit.CalendarDays, own, null)] : Array.Empty<ClockLimit>(), .. Limits]
        : (IntervalDays ?? Policy.Days.For(Category)) is { } days ? [new ClockLimit(ClockUnit.CalendarDays, days, null)]
        : [];
}
