using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>Days added to a clock, and when they were asked for and approved, where that is known: neither may lie after the lapse.</summary>
public sealed record ClockExtension(int Days, Instant? RequestedAt = null, Instant? ApprovedAt = null);
