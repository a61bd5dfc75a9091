using CsCheck;
using Drainboard.Domain.Reliability;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Reliability;

/// <summary>Trend tests against the NIST e-Handbook, MIL-HDBK-189 and Modarres (sources in the vector file).</summary>
public sealed class FaultTrendTests
{
    private static readonly System.Text.Json.JsonElement File = Vector.Read("04_trend_power_law");

    [Fact]
    public void Trend_OfEachPublishedSystem_IsAsRecomputed()
    {
        foreach (var system in File.GetProperty("single_system").EnumerateArray())
        {
            var trend = FaultTrend.Of(Numbers(system, "times"), system.Number("T"), system.GetProperty("failure_terminated").GetBoolean());
            Near.Equal(system.Number("laplace_U"), trend.LaplaceU!.Value);
            Near.Equal(system.Number("laplace_p_two"), trend.LaplaceP!.Value, trend.DegreesOfFreedom < 20 ? 0.05 : 1e-9);
            Near.Equal(system.Number("milhdbk_chi2"), trend.ChiSquare!.Value);
            Near.Equal(system.Number("milhdbk_df"), trend.DegreesOfFreedom!.Value);
            Near.Equal(system.Number("milhdbk_p_two"), trend.ChiSquareP!.Value, 1e-8);
            var growth = system.GetProperty("crow");
            Near.Equal(growth.Number("beta_mle"), trend.Growth!.Beta);
            Near.Equal(growth.Number("lambda_mle"), trend.Growth.Lambda);
            Near.Equal(growth.Number("mtbf_at_T"), trend.Growth.MeanTimeBetweenNow);
            Near.Equal(growth.GetProperty("beta_ci90")[0].GetDouble(), trend.Growth.Beta90.Low);
            Near.Equal(growth.GetProperty("beta_ci90")[1].GetDouble(), trend.Growth.Beta90.High);
        }
    }

    /// <summary>NIST e-Handbook 8.2.3.4: Laplace sees no trend where the other test sees one. Only the chosen one decides.</summary>
    [Fact]
    public void Trend_WhereTheTwoTestsDisagree_IsWhatLaplaceSays()
    {
        var trend = FaultTrend.Of(Numbers(File.GetProperty("single_system")[0], "times"), 1500);

        Assert.True(trend is { LaplaceP: > 0.05, ChiSquareP: < 0.05, Verdict: TrendVerdict.NoTrend });
    }

    /// <summary>Irwin and Hall 1927: the sum of a few uniform numbers is not normal.</summary>
    [Fact]
    public void Trend_OfAFewFaults_IsExact()
    {
        foreach (var row in File.GetProperty("laplace_small_n_exact").EnumerateArray())
        {
            var (count, mean) = ((int)row.Number("n"), row.Number("mean_t_over_T"));
            Near.Equal(row.Number("exact_upper_irwin_hall"), FaultTrend.SumAtLeast(count, count * mean), 1e-8);
        }

        Near.Equal(2 * 0.02, FaultTrend.Of([88, 92], 100).LaplaceP!.Value);
        Assert.Equal(TrendVerdict.Worsening, FaultTrend.Of([88, 92], 100).Verdict);
        Near.Equal(1, FaultTrend.Of([40, 60], 100).LaplaceP!.Value);
    }

    [Fact]
    public void Trend_OfNoneOrOne_SaysTooFew()
    {
        Assert.Equal(new FaultTrend(null, null, null, null, null, null, TrendVerdict.TooFew), FaultTrend.Of([], 100));
        Assert.Equal((TrendVerdict.TooFew, null), (FaultTrend.Of([90], 100).Verdict, FaultTrend.Of([90], 100).Growth));
        Assert.Null(FaultTrend.Of([10, 90], 100).Growth);
    }

    /// <summary>The end of the watch is a fact of its own: the same faults with another end are another answer (-1.327 against -1.911).</summary>
    [Fact]
    public void Trend_DependsOnTheEndOfTheWatch()
    {
        var times = Numbers(File.GetProperty("single_system")[0], "times");

        Near.Equal(-1.326949, FaultTrend.Of(times, 1500).LaplaceU!.Value, 1e-6);
        Near.Equal(-1.911, FaultTrend.Of(times, 1478, endedByFault: true).LaplaceU!.Value, 1e-3);
    }

    /// <summary>Intervals that were sorted have lost their order in time: they show an improvement that is none. The caller gives times, not intervals.</summary>
    [Fact]
    public void Trend_OfIntervalsInSortedOrder_IsAFalseImprovement_AndShufflingDissolvesIt()
    {
        var sorted = Numbers(File.GetProperty("single_system").EnumerateArray().Single(one => one.GetProperty("id").GetString()!.Contains("sorted", StringComparison.Ordinal)), "times");
        double[] intervals = [.. sorted.Zip(sorted.Prepend(0), (at, before) => at - before)];
        var dice = new Random(7);

        Assert.True(FaultTrend.Of(sorted, sorted[^1], endedByFault: true) is { LaplaceU: < -3 or > 3 });
        var found = Enumerable.Range(0, 200).Count(_ =>
        {
            dice.Shuffle(intervals);
            var at = 0.0;
            var times = intervals.Select(interval => at += interval).ToArray();
            return FaultTrend.Of(times, times[^1], endedByFault: true).Verdict is TrendVerdict.Improving or TrendVerdict.Worsening;
        });
        Assert.InRange(found, 0, 30);
    }

    [Theory]
    [InlineData(0.0, 100.0, false)]
    [InlineData(101.0, 100.0, false)]
    [InlineData(50.0, 100.0, true)]
    [InlineData(50.0, 0.0, false)]
    public void Trend_OfATimeOutsideTheWatch_IsRefused(double time, double end, bool byFault) => Assert.Throws<ArgumentException>(() => FaultTrend.Of([time], end, byFault));

    /// <summary>Turned round in time, what got worse gets better.</summary>
    [Fact]
    public void Trend_OfMirroredTimes_HasTheOppositeSign() =>
        Gen.Double[0.001, 0.999].Array[2, 15].Sample(times =>
        {
            var (forward, back) = (FaultTrend.Of(times, 1), FaultTrend.Of([.. times.Select(time => 1 - time)], 1));
            return Math.Abs(forward.LaplaceU!.Value + back.LaplaceU!.Value) < 1e-9 && Math.Abs(forward.LaplaceP!.Value - back.LaplaceP!.Value) < 1e-6;
        });

    private static double[] Numbers(System.Text.Json.JsonElement element, string member) => [.. element.GetProperty(member).EnumerateArray().Select(one => one.GetDouble())];
}
