using Drainboard.Domain.Reliability;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Reliability;

/// <summary>Rates and their intervals against published data sets and R (sources in the vector file).</summary>
public sealed class PoissonRateTests
{
    private static readonly System.Text.Json.JsonElement File = Vector.Read("01_poisson_rates");

    /// <summary>Garwood 1936, as in standard tables; recomputed with R.</summary>
    [Theory]
    [InlineData("garwood95", 0.95)]
    [InlineData("garwood90", 0.90)]
    public void Limits_OfEachCount_AreGarwoods(string table, double confidence)
    {
        foreach (var row in File.GetProperty(table).EnumerateArray())
        {
            var limits = PoissonRate.Limits((int)row.Number("n"), 1, confidence);
            Near.Equal(row.Number("lo"), limits.Low);
            Near.Equal(row.Number("hi"), limits.High);
        }
    }

    /// <summary>R's poisson.test help (Welsh nickel workers) and worked cases.</summary>
    [Fact]
    public void Limits_AndTail_OfOneSample_AreThoseOfR()
    {
        foreach (var row in File.GetProperty("one_sample").EnumerateArray())
        {
            var (events, exposure, result) = ((int)row.Number("x"), row.Number("T"), row.GetProperty("res"));
            var limits = PoissonRate.Limits(events, exposure);
            Near.Equal(result.Number("lo"), limits.Low);
            Near.Equal(result.Number("hi"), limits.High);
            if (row.TryGetProperty("greater", out var greater))
            {
                Near.Equal(greater.GetDouble(), PoissonRate.AtLeast(events, row.Number("r") * exposure));
                Near.Equal(row.Number("less"), PoissonRate.AtMost(events, row.Number("r") * exposure));
            }
        }
    }

    /// <summary>R's poisson.test help (Fredericia against three towns, ISwR), the rateratio.test help, and worked cases with none on either side.</summary>
    [Fact]
    public void Ratio_OfTwoSamples_IsThatOfR()
    {
        foreach (var row in File.GetProperty("two_sample").EnumerateArray())
        {
            var (x, t, result) = (row.GetProperty("x"), row.GetProperty("T"), row.GetProperty("res"));
            var ratio = RateRatio.Of(x[0].GetInt32(), t[0].GetDouble(), x[1].GetInt32(), t[1].GetDouble());
            Near.Equal(result.Number("lo"), ratio.Limits.Low);
            Near.Equal(row.Number("greater"), ratio.PGreater);
            Near.Equal(row.Number("less"), ratio.PLess);
            if (result.GetProperty("hi").ValueKind == System.Text.Json.JsonValueKind.String)
            {
                Assert.True(double.IsPositiveInfinity(ratio.Limits.High) && double.IsPositiveInfinity(ratio.Ratio!.Value));
            }
            else
            {
                Near.Equal(result.Number("hi"), ratio.Limits.High);
                Near.Equal(result.Number("est"), ratio.Ratio!.Value);
            }
        }
    }

    /// <summary>The trap of one less a cumulative probability: it would be 0 here (value by mpmath, from the vectors' ground rules).</summary>
    [Fact]
    public void AtLeast_FarOut_KeepsItsDigits()
    {
        Near.Equal(3.006347738124e-26, PoissonRate.AtLeast(40, 4), 1e-11);
        Assert.Equal((1.0, 0.0), (PoissonRate.AtLeast(0, 3), PoissonRate.AtLeast(2, 0)));
    }

    [Fact]
    public void Ratio_WithNoEventsAtAll_SaysNothingAndNoNaN()
    {
        var ratio = RateRatio.Of(0, 100, 0, 900);
        Assert.Null(ratio.Ratio);
        Assert.Equal((new Bounds(0, double.PositiveInfinity), 1.0, 1.0), (ratio.Limits, ratio.PGreater, ratio.PLess));
    }

    [Theory]
    [InlineData(-1, 10)]
    [InlineData(1, 0)]
    [InlineData(1, -3)]
    public void Limits_OfNoExposureOrNegativeCounts_AreRefused(int events, double exposure) => Assert.Throws<ArgumentOutOfRangeException>(() => PoissonRate.Limits(events, exposure));
}
