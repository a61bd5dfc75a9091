using Drainboard.Domain.Reliability;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Reliability;

/// <summary>Alert levels against NIST 6.3.3.1, a published chart of computers' faults, and worked months (sources in the vector file).</summary>
public sealed class AlertLevelTests
{
    private static readonly System.Text.Json.JsonElement File = Vector.Read("08_alert_levels");

    [Fact]
    public void ChartLimits_OfThePublishedCharts_AreTheirs()
    {
        var wafers = File.GetProperty("nist_c_chart");
        var limits = AlertLevel.ChartLimits(wafers.Number("cbar"), 1);
        Assert.Equal((wafers.Number("lcl"), wafers.Number("ucl")), (limits.Low, limits.High));
        var computers = File.GetProperty("montgomery_u_chart");
        var five = AlertLevel.ChartLimits(computers.Number("ubar"), computers.Number("n"));
        Near.Equal(computers.Number("lcl"), five.Low);
        Near.Equal(computers.Number("ucl"), five.High);
        var months = File.GetProperty("variable_exposure_u_chart");
        foreach (var (month, index) in months.GetProperty("exposure_kFH").EnumerateArray().Select((one, index) => (one, index)))
        {
            var chart = AlertLevel.ChartLimits(months.Number("ubar"), month.GetDouble());
            Near.Equal(months.GetProperty("lcl")[index].GetDouble(), chart.Low);
            Near.Equal(months.GetProperty("ucl")[index].GetDouble(), chart.High);
        }
    }

    [Fact]
    public void ExactLimit_AtSmallCounts_IsTheSmallestThatKeepsTheFalseAlarms()
    {
        foreach (var row in File.GetProperty("low_count_false_alarm").EnumerateArray())
        {
            var mean = row.Number("mean");
            // The file counts alarms at k or more; the largest count that is none is one less.
            Assert.Equal(((int)row.Number("smallest_k_alarm_exact_0p00135") - 1, (int)row.Number("smallest_k_alarm_exact_0p05") - 1), (AlertLevel.ExactLimit(mean), AlertLevel.ExactLimit(mean, 0.05)));
            Near.Equal(row.Number("false_alarm_P_X_gt_ucl"), PoissonRate.AtLeast((int)Math.Floor(row.Number("ucl3")) + 1, mean), 1e-8);
        }
    }

    [Fact]
    public void MeanAndDeviations_OfTheWorkedMonths_SaysWhetherOverNOrLess()
    {
        var months = File.GetProperty("mean_plus_k_sd");
        var rates = months.GetProperty("rates").EnumerateArray().Select(one => one.GetDouble()).ToArray();

        Near.Equal(months.Number("mean_plus_2sd"), AlertLevel.MeanAndDeviations(rates, 2));
        Near.Equal(months.Number("mean_plus_3sd"), AlertLevel.MeanAndDeviations(rates, 3));
        Near.Equal(months.Number("mean_plus_2sd_popn"), AlertLevel.MeanAndDeviations(rates, 2, overN: true));
    }

    [Fact]
    public void RunningRates_ArePooled()
    {
        var months = File.GetProperty("variable_exposure_u_chart");
        var rolling = AlertLevel.RunningRates([.. months.GetProperty("events").EnumerateArray().Select((one, index) => new FleetMonth(one.GetInt32(), months.GetProperty("exposure_kFH")[index].GetDouble()))]);

        Assert.All(rolling.Index(), one => Near.Equal(File.GetProperty("mean_plus_k_sd").GetProperty("rolling3_pooled")[one.Index].GetDouble(), one.Item!.Value));
    }

    /// <summary>With the month inside its own baseline of ten, three deviations can never be passed; apart, they are.</summary>
    [Fact]
    public void Month_IsHeldAgainstTheMonthsBeforeIt_NotAgainstItself()
    {
        FleetMonth[] baseline = [.. Enumerable.Range(0, 9).Select(at => new FleetMonth(5 + (at % 2), 1000))];
        var month = new FleetMonth(500, 1000);

        Assert.All(Enum.GetValues<AlertMethod>(), method => Assert.True(AlertLevel.Of(method, baseline, month).IsAlert));
        Assert.True(AlertLevel.MeanAndDeviations([.. baseline.Append(month).Select(one => one.Events / one.Exposure)], 3) > month.Events / month.Exposure);
    }

    [Fact]
    public void Month_WithoutExposureOrBaseline_IsNoAlertAndNoNaN()
    {
        Assert.Equal(new AlertLevel(AlertMethod.ExactPoisson, 0.005, null, null, false), AlertLevel.Of(AlertMethod.ExactPoisson, [new(5, 1000)], new(0, 0)));
        Assert.Equal(new AlertLevel(AlertMethod.MeanAndDeviations, null, 0.005, null, false), AlertLevel.Of(AlertMethod.MeanAndDeviations, [], new(5, 1000)));
    }
}
