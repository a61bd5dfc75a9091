using Drainboard.Domain.Defects;
using Drainboard.Domain.Reliability;
using static Drainboard.Web.Features.Reliability.ReliabilityWords;

namespace Drainboard.Web.Features.Reliability;

/// <summary>A standing in a sentence.</summary>
internal static class StandingWords
{
    public static string Unit(ExposureUnit unit) => unit switch
    {
        ExposureUnit.Sectors => "sectors",
        ExposureUnit.FlightHours => "flight hours",
        ExposureUnit.Days => "days",
    };

    public static string Family(SymptomFamily? family) => family is { } kind ? Family(kind) : "found there";

    public static string Family(SymptomFamily family) => family switch
    {
        SymptomFamily.Draining => "draining",
        SymptomFamily.Supply => "water supply",
        SymptomFamily.Quality => "smell or colour",
        SymptomFamily.Flushing => "flushing",
        SymptomFamily.Leaking => "leaking",
        SymptomFamily.Insects => "insects",
        SymptomFamily.Other => "something else",
    };

    public static string Reason(Standing one, ExposureUnit unit) =>
        $"{one.Events} in {Say(one.Exposure)} {Unit(unit)}: {Say(1000 * one.Rate)} a thousand ({Say(1000 * one.Low)} to {Say(1000 * one.High)}); {Against(one)}. {(one.IsFlagged ? "Stands out from chance" : "May be chance")} (adjusted p {Chance(one.PAdjusted)}).";

    /// <summary>Where it is going, in a sentence; with the growth of the rate where there are enough faults to fit it.</summary>
    /// <param name="what">What is counted, in one word.</param>
    public static string Trend(FaultTrend trend, string what) => trend.Verdict switch
    {
        TrendVerdict.TooFew => $"Too few {what}s to say where it is going.",
        TrendVerdict.NoTrend => $"No trend shown in the time (Laplace, p {Chance(trend.LaplaceP!.Value)}).",
        TrendVerdict.Worsening => $"Getting worse: {what}s come closer together (Laplace, p {Chance(trend.LaplaceP!.Value)}{Growth(trend)}).",
        TrendVerdict.Improving => $"Getting better: {what}s come further apart (Laplace, p {Chance(trend.LaplaceP!.Value)}{Growth(trend)}).",
    };

    private static string Growth(FaultTrend trend) =>
        trend.Growth is { } law ? $"; their number grows as time to the power of {Say(law.Beta)}, 90 % interval {Say(law.Beta90.Low)} to {Say(law.Beta90.High)}, MIL-HDBK-189" : "";

    /// <summary>"6 times the fleet rate (at least 2.1)".</summary>
    public static string Against(Standing one) => one.Ratio is { } times
        ? $"{Say(times)} times the rest of its fleet (at least {Say(one.RatioLow)})"
        : $"the rest of its fleet has none (at least {Say(one.RatioLow)} times)";
}
