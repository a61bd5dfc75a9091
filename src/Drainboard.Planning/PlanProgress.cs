namespace Drainboard.Planning;

/// <summary>How far a solve has come: what the best plan so far is worth, what none can exceed, and after how many seconds.</summary>
public sealed record PlanProgress(int Objective, int Bound, double Seconds);
