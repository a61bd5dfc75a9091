namespace Drainboard.Domain.Isolation;

/// <summary>In which order to open, after how many to stop and defer, and the expected minutes of that.</summary>
public sealed record OpenPlan(IReadOnlyList<string> Order, int StopAfter, double ExpectedMinutes);
