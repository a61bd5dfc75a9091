using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Isolation;

/// <summary>
/// A cabin's gravity drains as a tree of segments: every sink, basin and coffee maker is an outlet, and what its water passes on the way to a
/// mast or a grey-water line is its path. Toilets are another network (vacuum), and a tank is no segment: it is full or not.
/// </summary>
public static class CabinDrains
{
    /// <param name="prior">How likely a segment is to be blocked before anything is tested.</param>
    /// <returns>Null where the drawing is no tree; a sound layout always is one.</returns>
    public static DrainTree? TreeOf(CabinLayout layout, Func<Fixture, double> prior)
    {
        var outlets = layout.Fixtures.Where(IsOutlet).Select(fixture => (fixture, Path: PathOf(layout, fixture.Position))).Where(outlet => outlet.Path.Count > 0).ToArray();
        var segments = outlets.SelectMany(outlet => outlet.Path).DistinctBy(segment => segment.Position);
        return DrainTree.Build([.. segments.Select(segment => new DrainSegment(segment.Position.Value, prior(segment)))], [.. outlets.Select(outlet => new DrainOutlet(outlet.fixture.Position.Value, [.. outlet.Path.Select(segment => segment.Position.Value)]))]).Tree;
    }

    /// <summary>The segments that a fixture drains through, its own strainer first.</summary>
    public static IReadOnlyList<Fixture> PathOf(CabinLayout layout, Position fixture) =>
        [.. layout.Plumbing.DrainPath(fixture).Skip(1).Where(node => node.Kind is not (FixtureKind.WasteTank or FixtureKind.Toilet))];

    public static bool IsOutlet(Fixture fixture) => fixture.Kind.StandsBetween() && fixture.Kind != FixtureKind.Toilet;
}
