using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// A clock worked out. It runs from <see cref="StartsAt"/> (included) to <see cref="DueAt"/> (excluded): at <see cref="DueAt"/> it has
/// lapsed. <see cref="DueAt"/> is null when the flights known do not use up any limit (<see cref="OpenEnded"/>), or when a field of
/// the policy is yet to be set (<see cref="Unset"/>).
/// </summary>
/// <param name="Days">The calendar days between, extensions included; zero where none are counted.</param>
public sealed record ClockReading(Instant? StartsAt, Instant? DueAt, ClockUnit? Binding, int Days, IReadOnlyList<ClockCount> Counts, IReadOnlyList<string> Unset, IReadOnlyList<Explained> Explanation)
{
    public bool OpenEnded => DueAt is null && Unset.Count == 0;

    public bool HasLapsed(Instant now) => DueAt <= now;

    /// <summary>Whether a flight may depart with a clock that lapses then. A test that is not set yet is read strictly.</summary>
    public static bool MayFly(Instant dueAt, ClockSector sector, ExpiryTest? test) =>
        sector.OffBlock < dueAt && (test == ExpiryTest.Departure || sector.OnBlock <= dueAt);
}
