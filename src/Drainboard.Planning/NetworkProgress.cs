namespace Drainboard.Planning;

/// <summary>How far a plan of the network has come, after how many seconds.</summary>
/// <param name="Late">In the best plan so far; none has fewer than <paramref name="FewestLate"/>.</param>
public sealed record NetworkProgress(int Late, int FewestLate, int Points, int MostPoints, double Seconds);
