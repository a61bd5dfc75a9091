using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Plumbing;

/// <summary>What goes dry when the supply is shut off at a place of a layout.</summary>
/// <param name="At">Where it is shut off.</param>
/// <param name="Dry">Everything fed through there, itself included unless it is a tank.</param>
/// <param name="PowerOffFirst">Of those, what heats: powered off before the water goes, so that nothing boils dry (common practice, no source).</param>
/// <param name="NoRinse">Of those, toilets that lose their rinse: out of use then.</param>
public sealed record ShutOff(Fixture At, IReadOnlyList<Fixture> Dry, IReadOnlyList<Fixture> PowerOffFirst, IReadOnlyList<Fixture> NoRinse)
{
    /// <returns>Null where the layout has no such position, or nothing is fed through it.</returns>
    public static ShutOff? Of(CabinLayout layout, Position at)
    {
        var dry = layout.Fixtures.Where(fixture => fixture.Kind != FixtureKind.PotableTank && layout.Plumbing.SupplyPath(fixture.Position) is { Count: > 1 } way && way.Any(node => node.Position == at)).OrderBy(fixture => fixture.Along).ThenBy(fixture => fixture.Across).ToArray();
        return layout.Find(at) is { } here && dry.Length > 0
            ? new ShutOff(here, dry, [.. dry.Where(fixture => fixture.Kind is FixtureKind.WaterHeater or FixtureKind.CoffeeMaker)], [.. dry.Where(fixture => fixture.Kind == FixtureKind.Toilet)])
            : null;
    }
}
