using CsCheck;
using Drainboard.Domain.Reliability;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Reliability;

/// <summary>Ten pumps (Gaver and O'Muircheartaigh 1987), fifteen p-values (Benjamini and Hochberg 1995), and fleets at the edge.</summary>
public sealed class FleetRatesTests
{
    private static readonly System.Text.Json.JsonElement Pumps = Vector.Read("03_gamma_poisson_eb");
    private static readonly System.Text.Json.JsonElement Tests = Vector.Read("01_poisson_rates").GetProperty("pumps_one_vs_rest");

    [Fact]
    public void Pumps_PriorAndPosteriors_AreAsRecomputed()
    {
        var fleet = FleetRates.Of(Fleet(Pumps.GetProperty("x"), Pumps.GetProperty("t")));
        var mle = Pumps.GetProperty("mle");

        Near.Equal(mle.Number("alpha"), fleet.Prior!.Alpha, 1e-7);
        Near.Equal(mle.Number("beta"), fleet.Prior.Beta, 1e-7);
        Near.Equal(Pumps.Number("pooled_rate"), fleet.Rate);
        Assert.All(fleet.Fixtures.Index(), one =>
        {
            Near.Equal(Pumps.GetProperty("posterior_mean")[one.Index].GetDouble(), one.Item.PosteriorMean, 1e-7);
            Near.Equal(Pumps.GetProperty("q05")[one.Index].GetDouble(), one.Item.Posterior05, 1e-6);
            Near.Equal(Pumps.GetProperty("prob_rate_exceeds_pooled")[one.Index].GetDouble(), fleet.Prior.PosteriorAbove(one.Item.Count.Events, one.Item.Count.Exposure, fleet.Rate), 1e-6);
            Near.Equal(Tests.GetProperty("p_greater")[one.Index].GetDouble(), one.Item.PWorse);
            Near.Equal(Tests.GetProperty("bh_greater")[one.Index].GetDouble(), one.Item.PAdjusted);
        });
        Assert.Equal(["6", "9", "10"], fleet.Fixtures.Where(one => one.IsFlagged).Select(one => one.Count.Id));
    }

    /// <summary>By the raw rate pumps 7 and 8 come third with one event each; by the 5 % quantile they do not.</summary>
    [Fact]
    public void Pumps_Ranked_AreNotInTheOrderOfTheirRawRates()
    {
        var fleet = FleetRates.Of(Fleet(Pumps.GetProperty("x"), Pumps.GetProperty("t")));

        Assert.Equal(Pumps.GetProperty("rank_by_q05_desc").EnumerateArray().Select(one => one.GetInt32().ToString(System.Globalization.CultureInfo.InvariantCulture)), fleet.Fixtures.OrderByDescending(one => one.Posterior05).Select(one => one.Count.Id));
    }

    [Fact]
    public void ZeroHeavyFleet_HasItsPrior()
    {
        var zeros = Pumps.GetProperty("zero_heavy_fleet");
        var fleet = FleetRates.Of(Fleet(zeros.GetProperty("x"), zeros.GetProperty("t")));

        Near.Equal(zeros.Number("alpha"), fleet.Prior!.Alpha, 1e-6);
        Near.Equal(zeros.Number("beta"), fleet.Prior.Beta, 1e-6);
        Near.Equal(zeros.Number("loglik"), fleet.Prior.LogLikelihood(fleet.Fixtures.Select(one => (one.Count.Events, one.Count.Exposure, 1))));
        Assert.All(fleet.Fixtures.Index(), one => Near.Equal(zeros.GetProperty("q05")[one.Index].GetDouble(), one.Item.Posterior05, 1e-5));
    }

    [Fact]
    public void FleetThatDiffersNoMoreThanChance_TakesTheCommonRate()
    {
        var even = Pumps.GetProperty("degenerate_underdispersed");
        var fleet = FleetRates.Of(Fleet(even.GetProperty("x"), even.GetProperty("t")));

        Assert.Null(fleet.Prior);
        Assert.All(fleet.Fixtures, one => Assert.Equal((0.05, 0.05, false), (one.PosteriorMean, one.Posterior05, one.IsFlagged)));
    }

    [Fact]
    public void FleetWithoutAnEvent_OrOfOne_SaysSoWithoutNaN()
    {
        var none = FleetRates.Of([new("a", 0, 300), new("b", 0, 500)]);
        var one = FleetRates.Of([new("a", 3, 300)]);

        Assert.Equal((0.0, null, 1.0), (none.Rate, none.Prior, none.Fixtures[0].PWorse));
        Near.Equal(3.688879 / 300, none.Fixtures[0].Limits95.High, 1e-6);
        Assert.Equal((0.01, null, 1.0, false), (one.Rate, one.Prior, one.Fixtures[0].PWorse, one.Fixtures[0].IsFlagged));
        Assert.Throws<ArgumentException>(() => FleetRates.Of([]));
        Assert.Throws<ArgumentException>(() => FleetRates.Of([new("a", 1, 0)]));
    }

    /// <summary>Benjamini and Hochberg 1995, fifteen p-values: four are rejected at 0.05, three at 0.01, nine at 0.10.</summary>
    [Fact]
    public void Adjust_OfThePublishedList_RejectsAsPublished()
    {
        var published = Vector.Read("02_benjamini_hochberg");
        var ps = published.GetProperty("p").EnumerateArray().Select(one => one.GetDouble()).ToArray();
        var adjusted = FalseDiscovery.Adjust(ps);

        Assert.All(adjusted.Index(), one => Near.Equal(published.GetProperty("adj")[one.Index].GetDouble(), one.Item));
        Assert.Equal((3, 4, 9), (adjusted.Count(p => p <= 0.01), adjusted.Count(p => p <= 0.05), adjusted.Count(p => p <= 0.10)));
        foreach (var extra in published.GetProperty("extra").EnumerateArray())
        {
            Assert.All(FalseDiscovery.Adjust([.. extra.GetProperty("p").EnumerateArray().Select(one => one.GetDouble())]).Index(), one => Near.Equal(extra.GetProperty("adj")[one.Index].GetDouble(), one.Item));
        }

        Assert.Empty(FalseDiscovery.Adjust([]));
    }

    /// <summary>Ties get equal answers, none is below its own p, and the order of p is kept.</summary>
    [Fact]
    public void Adjust_OfAnyList_KeepsOrderAndTies() =>
        Gen.Double[0, 1].Select(p => Math.Round(p, 2)).Array[1, 40].Sample(ps =>
        {
            var adjusted = FalseDiscovery.Adjust(ps);
            return Enumerable.Range(0, ps.Length).All(at => adjusted[at] >= ps[at] - 1e-12 && adjusted[at] <= 1 && Enumerable.Range(0, ps.Length).All(other => ps[at] == ps[other] ? adjusted[at] == adjusted[other] : ps[at] > ps[other] || adjusted[at] <= adjusted[other]));
        });

    private static FixtureCount[] Fleet(System.Text.Json.JsonElement events, System.Text.Json.JsonElement exposure) =>
        [.. events.EnumerateArray().Select((one, index) => new FixtureCount((index + 1).ToString(System.Globalization.CultureInfo.InvariantCulture), one.GetInt32(), exposure[index].GetDouble()))];
}
