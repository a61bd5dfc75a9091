using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// A deferral clock worked out. It runs from <see cref="StartsAt"/> (included) to <see cref="DueAt"/> (excluded): at
/// <see cref="DueAt"/> it has lapsed. <see cref="Days"/> counts the calendar days between, extensions included.
/// </summary>
public sealed record ClockReading(Instant StartsAt, Instant DueAt, int Days, DateTimeZone Zone, IReadOnlyList<ClockStep> Explanation)
{
    public bool HasLapsed(Instant now) => now >= DueAt;

    /// <summary>What is left; negative once lapsed.</summary>
    public Duration Left(Instant now) => DueAt - now;
}
