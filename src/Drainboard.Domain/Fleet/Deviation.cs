namespace Drainboard.Domain.Fleet;

/// <summary>Where one tail differs from its layout at one position, in words ("sink removed", "heater of another part number").</summary>
public sealed record Deviation(Position Position, string Words);
