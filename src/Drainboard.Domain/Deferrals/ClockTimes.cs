using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>A clock's ends: it runs from <see cref="StartsAt"/> (included) to <see cref="DueAt"/> (excluded).</summary>
public readonly record struct ClockTimes(Instant StartsAt, Instant DueAt);
