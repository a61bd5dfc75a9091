using Drainboard.Domain.Isolation;

namespace Drainboard.Domain.Tests.Isolation;

public sealed class PourAdviceTests
{
    private static readonly DrainTree Tree = DrainTree.Build(
        [new("S1", 0.10), new("S2", 0.10), new("BR", 0.0167), new("MA", 0.0083)],
        [new("K1", ["S1", "BR", "MA"]), new("K2", ["S2", "BR", "MA"])]).Tree!;

    private static readonly Dictionary<string, double> Minutes = new() { ["S1"] = 7, ["S2"] = 7, ["BR"] = 35, ["MA"] = 30 };

    /// <summary>A strainer takes seven minutes to open: five minutes of pouring save fewer than five.</summary>
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

    /// <summary>
    /// What a pour saves, worked out the long way: for each single fault and each outcome, the minutes until it is opened in the order that the outcome
    /// leads to, against the order without the pour.
    /// </summary>
    [Fact]
    public void Best_OfRandomMinutes_SavesWhatFollowingBothOrdersGives()
    {
        var advised = 0;
        for (var seed = 0; seed < 200; seed++)
        {
            var random = new Random(seed);
            var minutes = Tree.Segments.ToDictionary(segment => segment.Id, _ => (double)random.Next(1, 90));
            var evidence = new Dictionary<string, PourResult> { ["K1"] = PourResult.Slow };
            var weights = DrainInference.Infer(Tree, PourModel.Default, evidence)!.SingleFault;
            double Seen(PourResult outcome, string fault) => PourModel.Default.Likelihood(outcome, Tree.Outlets[1].Path.Contains(fault) ? 1 : 0);
            var saved = Follow(minutes, weights, weights);
            foreach (var outcome in Enum.GetValues<PourResult>())
            {
                var joint = weights.ToDictionary(one => one.Key, one => one.Value * Seen(outcome, one.Key));
                var sum = joint.Values.Sum();
                saved -= Follow(minutes, joint.ToDictionary(one => one.Key, one => one.Value / sum), joint);
            }

            var pour = PourAdvice.Best(Tree, PourModel.Default, evidence, minutes, null, 0);

            advised += pour is null ? 0 : 1;
            Assert.True(Math.Abs((pour?.SavedMinutes ?? 0) - saved) < 1e-6, $"seed {seed}: {pour?.SavedMinutes}, the long way {saved}");
        }

        Assert.InRange(advised, 1, 199);
    }

    /// <summary>Minutes until each fault is opened, in the order that some weights lead to, weighed by how likely each fault is.</summary>
    private static double Follow(Dictionary<string, double> minutes, IReadOnlyDictionary<string, double> order, IReadOnlyDictionary<string, double> faults)
    {
        var (spent, sum) = (0.0, 0.0);
        foreach (var segment in OpenOrder.Plan([.. minutes.Select(one => new OpenAction(one.Key, order[one.Key], one.Value))], null).Order)
        {
            spent += minutes[segment];
            sum += spent * faults[segment];
        }

        return sum;
    }
}
