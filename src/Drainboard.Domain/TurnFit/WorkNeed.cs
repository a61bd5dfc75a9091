using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.TurnFit;

/// <summary>What a stay must offer to take an item: what the station can do, where hands are needed, and for how many minutes in one piece, papers included.</summary>
public readonly record struct WorkNeed(Ability Ability, CabinPlace Place, int Minutes);
