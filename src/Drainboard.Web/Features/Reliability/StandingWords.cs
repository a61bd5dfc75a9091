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

    /// <summary>"6 times the fleet rate (at least 2.1)".</summary>
    public static string Against(Standing one) => one.Ratio is { } times
        ? $"{Say(times)} times the rest of its fleet (at least {Say(one.RatioLow)})"
        : $"the rest of its fleet has none (at least {Say(one.RatioLow)} times)";
}
