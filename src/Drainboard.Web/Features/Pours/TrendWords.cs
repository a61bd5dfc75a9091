using System.Globalization;
using Drainboard.Domain.Pours;
using NodaTime;

namespace Drainboard.Web.Features.Pours;

/// <summary>A trend in one honest sentence.</summary>
internal static class TrendWords
{
    public static string Of(PoursView view)
    {
        var trend = view.Trend;
        return trend.Verdict switch
        {
            DrainTrendVerdict.TooFew => $"Too few pours for a trend: {trend.Pours} of {DrainTrend.Fewest} against a clean reference{(view.Since is null ? "" : " since the drain was last opened or timed clean")}.",
            DrainTrendVerdict.Slow => $"It is below {view.SlowPercent} % already: {Newest(view) * 100:0} % of clean at the newest pour.",
            DrainTrendVerdict.Falling when trend.Crosses is { } crosses => $"It loses {Percent(-trend.PerDay!.Value)} a day ({Percent(-trend.PerDayHigh!.Value)} to {Percent(-trend.PerDayLow!.Value)}, 95 % interval) and meets {view.SlowPercent} % about {Day(crosses)}, at the earliest {Day(trend.Earliest ?? crosses)}, {(trend.Latest is { } latest ? $"at the latest {Day(latest)}" : "perhaps more than a year ahead")}.",
            DrainTrendVerdict.Falling => $"It loses {Percent(-trend.PerDay!.Value)} a day; that does not meet {view.SlowPercent} % within a year.",
            DrainTrendVerdict.NoTrend => $"No trend that {trend.Pours} pours could tell: from {Signed(trend.PerDayLow!.Value)} to {Signed(trend.PerDayHigh!.Value)} a day (95 % interval).",
        };
    }

    private static double Newest(PoursView view) => view.Pours.First(pour => pour is { Openness: not null, Withdrawn: null }).Openness!.Value;

    private static string Percent(double share) => $"{(share * 100).ToString("0.#", CultureInfo.InvariantCulture)} %";

    private static string Signed(double share) => $"{(share * 100).ToString("+0.##;-0.##;0", CultureInfo.InvariantCulture)} %";

    private static string Day(Instant at) => at.InUtc().ToString("d MMM uuuu", CultureInfo.InvariantCulture);
}
