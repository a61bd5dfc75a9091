using NodaTime;

namespace Drainboard.Domain.PotableWater;

/// <summary>One thing that is due for a tail's drinking water.</summary>
/// <param name="Key">What it is, for programs.</param>
/// <param name="DueAt">Included; null: no time of its own, or never done.</param>
/// <param name="HoursLeft">Flight hours left, where it is counted in them; below zero: over.</param>
/// <param name="LastAt">When it was last done; null: never on record.</param>
/// <param name="IsOver">It should have been done.</param>
/// <param name="Missed">What missing it is an event of, where it is one (141.803(f)).</param>
public sealed record WaterDue(string Key, string What, Instant? DueAt, double? HoursLeft, Instant? LastAt, bool IsOver, WaterEvent? Missed, string Source);
