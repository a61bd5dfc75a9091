using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Rectification;

/// <summary>
/// Where to look for a leak after work: at the fixture itself and at every joint between it and the place that was opened. Common
/// practice, no source; the approved manual may name more.
/// </summary>
public static class LeakPoints
{
    public static IReadOnlyList<string> For(CabinLayout layout, Position fixture, Position foundAt)
    {
        var path = layout.Plumbing.DrainPath(fixture);
        var reach = path.Select((node, at) => (node, at)).FirstOrDefault(one => one.node.Position == foundAt).at;
        var points = path.Take(Math.Max(1, reach + 1)).SelectMany(AtFixture);
        return [.. points, .. layout.Find(foundAt) is { } elsewhere && path.All(node => node.Position != foundAt) ? AtFixture(elsewhere) : [], "The floor and whatever lies below, felt by hand and dry"];
    }

    private static string[] AtFixture(Fixture at) => at.Kind switch
    {
        FixtureKind.GalleySink or FixtureKind.LavatoryBasin => [$"Drain union and trap below {at.Name}", $"Supply hoses and shut-off valve below {at.Name}"],
        FixtureKind.CoffeeMaker => [$"Water coupling behind {at.Name}", $"Drain hose of {at.Name}"],
        FixtureKind.Toilet => [$"Flush valve and outlet joint of {at.Name}", $"Rinse line of {at.Name}"],
        FixtureKind.Strainer => [$"Cap of {at.Name}, hand tight", $"Both ends of {at.Name}"],
        FixtureKind.DrainMast => [$"Flange of {at.Name}, from inside"],
        FixtureKind.DrainLine => [$"Joints of {at.Name} that were opened"],
        FixtureKind.PotableTank or FixtureKind.WasteTank or FixtureKind.ServicePanel => [$"Connections and drain valve of {at.Name}"],
        FixtureKind.CheckValve or FixtureKind.WaterHeater or FixtureKind.Filter or FixtureKind.VacuumGenerator or FixtureKind.UltravioletSteriliser => [$"Both ends of {at.Name}"],
    };
}
