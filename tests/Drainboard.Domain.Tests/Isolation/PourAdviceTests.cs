using Drainboard.Domain.Isolation;

namespace Drainboard.Domain.Tests.Isolation;

public sealed class PourAdviceTests
{
    private static readonly DrainTree Tree = DrainTree.Build(
        [new("S1", 0.10), new("S2", 0.10), new("BR", 0.0167), new("MA", 0.0083)],
        [new("K1", ["S1", "BR", "MA"]), new("K2", ["S2", "BR", "MA"])]).Tree!;

    private static readonly Dictionary<string, double> Minutes = new() { ["S1"] = 7, ["S2"] = 7, ["BR"] = 35, ["MA"] = 30 };

    /// <summary>A strainer takes seven minutes to open: two minutes of pouring save fewer than two. A long deferral, and one that opens nothing else, change that.</summary>
    [Fact]
    public void Best_WithACheapLikelyStrainer_OpensItAndPoursNoMore() =>
        Assert.Null(PourAdvice.Best(Tree, PourModel.Default, new Dictionary<string, PourResult> { ["K1"] = PourResult.Slow }, Minutes, null, 5));

    /// <summary>Where the strainer is slow to reach and the branch nearly as likely, one pour into the neighbour tells which to open.</summary>
    [Fact]
    public void Best_WhereOpeningTheWrongOneCosts_PoursFirst()
    {
        var dear = new Dictionary<string, double> { ["S1"] = 60, ["S2"] = 60, ["BR"] = 35, ["MA"] = 30 };

        var pour = PourAdvice.Best(Tree, PourModel.Default, new Dictionary<string, PourResult> { ["K1"] = PourResult.Slow }, dear, null, 2);

        Assert.Equal("K2", pour?.Outlet);
        Assert.True(pour!.SavedMinutes > 0);
    }

    /// <summary>Knowing more never costs more than the pour itself.</summary>
    [Fact]
    public void Best_OfAFreePour_NeverLoses()
    {
        for (var seed = 0; seed < 200; seed++)
        {
            var random = new Random(seed);
            var minutes = Tree.Segments.ToDictionary(segment => segment.Id, _ => (double)random.Next(1, 90));
            var pour = PourAdvice.Best(Tree, PourModel.Default, new Dictionary<string, PourResult> { ["K1"] = PourResult.Slow }, minutes, random.Next(2) == 0 ? null : random.Next(10, 120), 0);

            Assert.True(pour is null or { SavedMinutes: > 0 }, $"seed {seed}");
        }
    }
}
