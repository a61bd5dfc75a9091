using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.Isolation;

public sealed class CabinDrainsTests
{
    [Fact]
    public void TreeOf_ACabin_HoldsEveryGravityDrainAndNoToilet()
    {
        var tree = CabinDrains.TreeOf(Cabin.Layout, segment => BlockagePriors.Of(segment.Kind))!;

        Assert.Equal(["K-1", "K-2"], tree.Outlets.Select(outlet => outlet.Id));
        Assert.Equal(["S-1", "BR", "DM"], tree.Outlets[0].Path);
        Assert.Equal(["S-1", "BR", "DM"], tree.Segments.Select(segment => segment.Id));
    }

    /// <summary>One slow sink and nothing else known: the trade looks at the strainer first (common practice, no source).</summary>
    [Fact]
    public void Infer_OneSlowSink_PointsToItsStrainer_AndTwoToWhatTheyShare()
    {
        var tree = CabinDrains.TreeOf(Cabin.Layout, segment => BlockagePriors.Of(segment.Kind))!;

        var one = DrainInference.Infer(tree, PourModel.Default, new Dictionary<string, PourResult> { ["K-1"] = PourResult.Slow })!;
        var both = DrainInference.Infer(tree, PourModel.Default, new Dictionary<string, PourResult> { ["K-1"] = PourResult.Slow, ["K-2"] = PourResult.Slow })!;

        Assert.Equal("S-1", one.SingleFault.MaxBy(pair => pair.Value).Key);
        Assert.Equal("BR", both.SingleFault.MaxBy(pair => pair.Value).Key);
    }

    [Theory]
    [InlineData(0, 0, 0.72)]
    [InlineData(20, 20, 0.86)]
    [InlineData(0, 80, 0.144)]
    public void Of_WithFindings_MovesFromTheTradesShareTowardsTheFleets(int here, int writeUps, double share) =>
        Assert.Equal(BlockagePriors.Of(FixtureKind.Strainer) / 0.72 * share, BlockagePriors.Of(FixtureKind.Strainer, here, writeUps), 9);
}
