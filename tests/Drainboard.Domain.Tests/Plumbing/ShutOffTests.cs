using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;

namespace Drainboard.Domain.Tests.Plumbing;

public sealed class ShutOffTests
{
    private static readonly CabinLayout Layout = new(new LayoutId(Guid.Empty), "T7", 1, "Test", 10,
        [Of("PT", FixtureKind.PotableTank), Of("H-1", FixtureKind.WaterHeater), Of("K-1", FixtureKind.GalleySink), Of("C-1", FixtureKind.CoffeeMaker), Of("B-1", FixtureKind.LavatoryBasin), Of("T-1", FixtureKind.Toilet), Of("DM", FixtureKind.DrainMast)],
        [Pipe("PT", "H-1"), Pipe("H-1", "K-1"), Pipe("PT", "C-1"), Pipe("PT", "B-1"), Pipe("PT", "T-1")]);

    [Fact]
    public void AtTheTank_EverythingFedGoesDry_HeatersFirst()
    {
        var shut = ShutOff.Of(Layout, Position.Parse("PT"))!;
        Assert.Equal("B-1 C-1 H-1 K-1 T-1", string.Join(' ', shut.Dry.Select(one => one.Position.Value).Order(StringComparer.Ordinal)));
        Assert.Equal("C-1 H-1", string.Join(' ', shut.PowerOffFirst.Select(one => one.Position.Value).Order(StringComparer.Ordinal)));
        Assert.Equal("T-1", Assert.Single(shut.NoRinse).Position.Value);
    }

    [Fact]
    public void AtABranch_OnlyWhatIsFedThroughIt()
    {
        Assert.Equal("H-1 K-1", string.Join(' ', ShutOff.Of(Layout, Position.Parse("H-1"))!.Dry.Select(one => one.Position.Value).Order(StringComparer.Ordinal)));
        Assert.Null(ShutOff.Of(Layout, Position.Parse("DM")));
        Assert.Null(ShutOff.Of(Layout, Position.Parse("X-1")));
    }

    private static Fixture Of(string position, FixtureKind kind) => new(Position.Parse(position), kind, position, "Cabin", 50, 50);

    private static Connection Pipe(string from, string to) => new(Water.Supply, Position.Parse(from), Position.Parse(to));
}
