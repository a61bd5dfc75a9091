using Drainboard.Domain.Reliability;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Reliability;

/// <summary>Mean cumulative functions against Nelson's valve seats (1995; R survival) and a published table of five systems.</summary>
public sealed class MeanCumulativeTests
{
    [Theory]
    [InlineData("five_systems")]
    [InlineData("valve_seat")]
    public void Steps_OfEachPublishedFleet_AreItsRows(string name)
    {
        var fleet = Vector.Read("05_mcf").GetProperty(name);
        var ends = fleet.GetProperty("ends");
        var steps = MeanCumulative.Of([.. fleet.GetProperty("events").EnumerateArray().Select((events, index) => new ObservedUnit([.. events.EnumerateArray().Select(one => one.GetDouble())], ends[index].GetDouble()))]);
        var rows = fleet.GetProperty("rows");

        Assert.Equal(rows.GetArrayLength(), steps.Count);
        Assert.All(steps.Index(), one =>
        {
            var row = rows[one.Index];
            Assert.Equal(((int)row.Number("events"), (int)row.Number("at_risk")), (one.Item.Faults, one.Item.AtRisk));
            Near.Equal(row.Number("t"), one.Item.At);
            Near.Equal(row.Number("mcf"), one.Item.Mean);
            Near.Equal(row.Number("var_lawless_nadeau"), one.Item.Variance);
        });
    }

    /// <summary>Nelson 1995: standard error at the first event .0241 (from memory), and dividing all by all understates the end.</summary>
    [Fact]
    public void ValveSeats_AtTheirEnds_AreAsPublished()
    {
        var lines = System.IO.File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "Vectors", "05_valveseat.csv"));
        Assert.True(lines.Length > 41);
        var fleet = Vector.Read("05_mcf").GetProperty("valve_seat");
        var steps = MeanCumulative.Of([.. fleet.GetProperty("events").EnumerateArray().Select((events, index) => new ObservedUnit([.. events.EnumerateArray().Select(one => one.GetDouble())], fleet.GetProperty("ends")[index].GetDouble()))]);

        Near.Equal(0.0241, Math.Sqrt(steps[0].Variance), 1e-3);
        Assert.True(steps[^1].Mean > 48.0 / 41 * 1.3);
        Assert.True(steps[^1].Limits() is { Low: > 0 } limits && limits.Low < steps[^1].Mean && limits.High > steps[^1].Mean);
    }

    /// <summary>A unit whose watch ends when a fault comes is still watched then.</summary>
    [Fact]
    public void Steps_WhereAnEndTiesWithAFault_CountThatUnit() =>
        Assert.Equal([new MeanCumulativeStep(10, 1, 2, 0.5, 0.125)], MeanCumulative.Of([new([10], 20), new([], 10)]));

    [Fact]
    public void Steps_OfNobody_AreNone() => Assert.Empty(MeanCumulative.Of([]));
}
