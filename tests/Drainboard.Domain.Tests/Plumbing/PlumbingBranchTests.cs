using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.Plumbing;

public sealed class PlumbingBranchTests
{
    [Fact]
    public void Around_ABranch_HoldsAllThatDrainsThroughItAndItsWayToTheEnd()
    {
        var branch = Cabin.Layout.Plumbing.Around(Position.Parse("BR"), Water.Drainage)!;

        Assert.Equal("DM", branch.Fixture.Position.Value);
        Assert.Equal(["DM", "BR", "K-2", "S-1", "K-1"], branch.Fixtures.Select(fixture => fixture.Position.Value).OrderBy(at => at == "DM" ? 0 : at == "BR" ? 1 : at == "K-2" ? 2 : at == "S-1" ? 3 : 4));
        Assert.Equal((2, 4), (branch.Leaves, branch.Depth));
    }

    [Fact]
    public void Around_OneSink_SaysHowManyMoreJoinBelow()
    {
        var branch = Cabin.Layout.Plumbing.Around(Cabin.Sink, Water.Drainage)!;

        Assert.Equal((1, 1), (branch.Leaves, branch.Joining));
        Assert.Equal((1, 0), (branch.Branches[0].Joining, branch.Branches[0].Branches[0].Joining));
    }

    /// <summary>Supply runs the other way: from the tank outwards.</summary>
    [Fact]
    public void Around_TheTank_FeedsEveryTap() =>
        Assert.Equal(["K-1", "K-2", "T-A"], Cabin.Layout.Plumbing.Around(Position.Parse("PT"), Water.Supply)!.Branches.Select(branch => branch.Fixture.Position.Value));

    /// <summary>A basin hot and cold stands under its heater and under the line.</summary>
    [Fact]
    public void Around_AFixtureFedOnTwoWays_StandsUnderEach()
    {
        var graph = new PlumbingGraph([Cabin.Of("PT", FixtureKind.PotableTank), Cabin.Of("H", FixtureKind.WaterHeater), Cabin.Of("B", FixtureKind.LavatoryBasin)], [Cabin.Supply("PT", "H"), Cabin.Supply("H", "B"), Cabin.Supply("PT", "B")]);

        Assert.Equal(2, graph.Around(Position.Parse("PT"), Water.Supply)!.Fixtures.Count(fixture => fixture.Position.Value == "B"));
    }

    [Fact]
    public void Around_ADrawingWithALoop_Ends()
    {
        var graph = new PlumbingGraph([Cabin.Of("A", FixtureKind.DrainLine), Cabin.Of("B", FixtureKind.DrainLine)], [Cabin.Drain("A", "B"), Cabin.Drain("B", "A")]);

        Assert.NotNull(graph.Around(Position.Parse("A"), Water.Drainage));
        Assert.Null(graph.Around(Position.Parse("C"), Water.Drainage));
    }

    [Fact]
    public void Views_OfManyFixtures_LeadToTheLinesAndToTheWhole()
    {
        var fixtures = new List<Fixture> { Cabin.Of("DM", FixtureKind.DrainMast), Cabin.Of("L-1", FixtureKind.DrainLine), Cabin.Of("L-2", FixtureKind.DrainLine) };
        var pipes = new List<Connection> { Cabin.Drain("L-1", "DM"), Cabin.Drain("L-2", "DM") };
        for (var at = 0; at < 16; at++)
        {
            fixtures.Add(Cabin.Of($"K-{at}", FixtureKind.GalleySink));
            pipes.Add(Cabin.Drain($"K-{at}", at < 8 ? "L-1" : "L-2"));
        }

        Assert.Equal(["DM", "L-1", "L-2"], new PlumbingGraph(fixtures, pipes).Views(Water.Drainage).Select(view => view.Position.Value));
        Assert.Equal(["DM"], Cabin.Layout.Plumbing.Views(Water.Drainage, 3).Select(view => view.Position.Value).Where(at => at != "WT"));
    }
}
