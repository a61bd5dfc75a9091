namespace Drainboard.Domain.Network;

/// <summary>A stay that can take an item before it lapses.</summary>
/// <param name="Minutes">What it uses of each capacity that it draws on, above zero.</param>
/// <param name="Chance">That it is done in the stay, 0 to 1.</param>
/// <param name="Days">Whole days until it begins.</param>
/// <param name="Draws">The names of those capacities: a station's day, a place on board in this stay.</param>
public sealed record NetworkOption(string Stay, int Minutes, double Chance, int Days, IReadOnlyList<string> Draws);
