namespace Drainboard.Domain.TurnFit;

/// <summary>One task of an item, and what its time rests on, in words.</summary>
public sealed record FitTask(string Name, TaskTime Time, string Rests);
