namespace Drainboard.Domain.Deferrals;

/// <summary>How much of one limit is used up by the time asked about.</summary>
public sealed record ClockCount(ClockUnit Unit, decimal Used, decimal Limit);
