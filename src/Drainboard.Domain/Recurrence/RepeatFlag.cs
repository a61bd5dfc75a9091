namespace Drainboard.Domain.Recurrence;

/// <summary>That a write-up is a repeat: how many in how many days, under which rule, and the reason in words.</summary>
public sealed record RepeatFlag(int Count, int OverDays, string Rule, string Reason);
