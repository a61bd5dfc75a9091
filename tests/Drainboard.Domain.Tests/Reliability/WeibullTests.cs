using Drainboard.Domain.Reliability;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Reliability;

/// <summary>Censored Weibull lives and age replacement against NIST 8.4.1.3, Abernethy C.5, Nelson 1982 and closed forms (sources in the vector files).</summary>
public sealed class WeibullTests
{
    private static readonly System.Text.Json.JsonElement Lives = Vector.Read("06_weibull_censored");
    private static readonly System.Text.Json.JsonElement Plans = Vector.Read("07_age_replacement");

    [Theory]
    [InlineData("nist")]
    [InlineData("abernethy")]
    [InlineData("genfan")]
    [InlineData("small8")]
    public void Fit_OfEachPublishedSet_IsThatOfR(string name)
    {
        var set = Lives.GetProperty(name);
        var fit = WeibullFit.Of(Ages(set))!;

        Near.Equal(set.Number("shape"), fit.Shape, 1e-7);
        Near.Equal(set.Number("scale"), fit.Scale, 1e-7);
        Near.Equal(set.Number("loglik"), fit.LogLikelihood, 1e-9);
        Assert.True(fit.Shape90.Low < fit.Shape && fit.Shape < fit.Shape90.High);
        Assert.True(fit.Shape90.Low > set.GetProperty("shape_ci95")[0].GetDouble() * 0.85 && fit.Shape90.High < set.GetProperty("shape_ci95")[1].GetDouble() * 1.15);
    }

    /// <summary>By definition: at both ends of the interval the likelihood is half the 90 % point of chi-squared below its best.</summary>
    [Fact]
    public void ShapeInterval_EndsWhereTheProfileLikelihoodDropsByHalfChiSquared()
    {
        var ages = Ages(Lives.GetProperty("nist"));
        var fit = WeibullFit.Of(ages)!;
        foreach (var shape in new[] { fit.Shape90.Low, fit.Shape90.High })
        {
            var scale = Math.Pow(ages.Sum(age => Math.Pow(age.Time, shape)) / ages.Count(age => age.Blocked), 1 / shape);
            var likelihood = ages.Sum(age => (age.Blocked ? Math.Log(shape / scale) + ((shape - 1) * Math.Log(age.Time / scale)) : 0) - Math.Pow(age.Time / scale, shape));
            Near.Equal(2.705543454095404 / 2, fit.LogLikelihood - likelihood, 1e-6);
        }
    }

    [Fact]
    public void Fit_WithoutTwoBlockages_IsNone()
    {
        Assert.Null(WeibullFit.Of([]));
        Assert.Null(WeibullFit.Of([new(100, false), new(200, false)]));
        Assert.Null(WeibullFit.Of([new(100, true), new(200, false)]));
        Assert.Null(WeibullFit.Of([new(100, true), new(100, true)]));
        Assert.Throws<ArgumentException>(() => WeibullFit.Of([new(0, true), new(5, true)]));
    }

    [Fact]
    public void Best_OfEachWorkedCase_IsItsIntervalAndCost()
    {
        foreach (var row in Plans.GetProperty("age_replacement_weibull").EnumerateArray())
        {
            var life = Life(row.Number("beta"), row.Number("eta"));
            var best = CleaningPlan.Best(life, row.Number("cp"), row.Number("cf"));
            if (row.GetProperty("T").ValueKind == System.Text.Json.JsonValueKind.Null)
            {
                Assert.Null(best);
                continue;
            }

            Near.Equal(row.Number("T"), best!.Value.At, 1e-8);
            Near.Equal(row.Number("cost"), best.Value.Cost, 1e-8);
            Near.Equal(row.Number("cost"), CleaningPlan.Cost(life, row.Number("cp"), row.Number("cf"), best.Value.At), 1e-8);
        }

        foreach (var point in Plans.GetProperty("cost_curve_beta2p5_eta1000_cp1_cf5").EnumerateArray())
        {
            Near.Equal(point[1].GetDouble(), CleaningPlan.Cost(Life(2.5, 1000), 1, 5, point[0].GetDouble()), 1e-8);
        }
    }

    /// <summary>Without wear-out, or with planned work as dear as unplanned, nothing is advised, and that is null and not 0.</summary>
    [Theory]
    [InlineData(0.9, 1, 5)]
    [InlineData(1.0, 1, 5)]
    [InlineData(2.5, 5, 5)]
    [InlineData(2.5, 6, 5)]
    public void Best_WithoutWearOutOrGain_IsNone(double shape, double planned, double unplanned) => Assert.Null(CleaningPlan.Best(Life(shape, 1000), planned, unplanned));

    /// <summary>The published NIST interval of the shape includes 1: the plan stays silent, though the point estimate alone would advise.</summary>
    [Fact]
    public void Plan_WhereWearOutIsNotShown_IsSilent()
    {
        var weak = WeibullFit.Of([new(200, true), new(500, true), new(900, true), new(1000, false)])!;
        var shown = WeibullFit.Of(Ages(Lives.GetProperty("small8")))!;

        Assert.True(weak.Shape > 1 && !weak.ShowsWearOut);
        Assert.Null(CleaningPlan.Of(weak, 1, 10).Interval);
        Assert.True(CleaningPlan.Of(shown, 1, 10) is { Interval: > 0, Saving: > CleaningPlan.LeastSaving });
        Assert.Null(CleaningPlan.Of(shown, 1, 1.05).Interval);
    }

    private static WeibullFit Life(double shape, double scale) => new(shape, scale, 0, new Bounds(shape, shape));

    private static Age[] Ages(System.Text.Json.JsonElement set) => [.. set.GetProperty("time").EnumerateArray().Select((time, index) => new Age(time.GetDouble(), set.GetProperty("event")[index].GetInt32() == 1))];
}
