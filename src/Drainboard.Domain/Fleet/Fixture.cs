namespace Drainboard.Domain.Fleet;

/// <summary>
/// One fixture of a layout. <see cref="Along"/> is the place along the cabin in percent of its length from the nose (0 to
/// 100), <see cref="Across"/> from the left wall to the right one (0 to 100): a drawing's measure, not a manual's.
/// <see cref="Access"/> names the panel that it lies behind, where several lie behind the same one; empty otherwise.
/// <see cref="Accessible"/> marks a toilet that passengers with reduced mobility can use.
/// </summary>
public sealed record Fixture(Position Position, FixtureKind Kind, string Name, string Area, int Along, int Across, string Access = "", bool Accessible = false);
