namespace Drainboard.Domain.Tanks;

/// <summary>A tank after a sector, in litres.</summary>
/// <param name="Likely">The best guess.</param>
/// <param name="Low">Four of five times it lies between this and <paramref name="High"/>.</param>
/// <param name="Chance">That a potable tank ran dry by then, or a waste tank was full.</param>
public sealed record TankPoint(double Likely, double Low, double High, double Chance);
