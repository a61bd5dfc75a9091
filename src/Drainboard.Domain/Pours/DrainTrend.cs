using NodaTime;

namespace Drainboard.Domain.Pours;

/// <summary>
/// Where a fixture's openness is heading: the median of all pairwise slopes and its 95 % interval from the ranks (Theil 1950; Sen, J. Am.
/// Stat. Assoc. 63, 1968). One bad pour does not move it. Five pours are the fewest for which the interval has that level.
/// </summary>
/// <param name="PerDay">Slope of openness a day, with its interval; null with too few pours.</param>
/// <param name="Last">The middle line at the newest pour: nothing is said of what came after it.</param>
/// <param name="FirstAt">The oldest pour that it rests on.</param>
/// <param name="Crosses">When the middle line meets the limit; null when it does not fall, or is below it already.</param>
/// <param name="Earliest">The same by the steepest slope of the interval.</param>
/// <param name="Latest">The same by the flattest; null: on this evidence it may never.</param>
public sealed record DrainTrend(int Pours, double SpanDays, DrainTrendVerdict Verdict, double? PerDay, double? PerDayLow, double? PerDayHigh, double? Last, Instant? LastAt, Instant? FirstAt, Instant? Crosses, Instant? Earliest, Instant? Latest)
{
    public const int Fewest = 5;

    // 97.5 % point of the normal distribution.
    private const double Normal975 = 1.959963984540054;

    /// <summary>Further ahead than this nothing is foretold (our choice).</summary>
    private static readonly Duration Horizon = Duration.FromDays(365);

    /// <param name="limit">Openness below which the station calls a drain slow.</param>
    public static DrainTrend Of(IReadOnlyList<(Instant At, double Openness)> pours, double limit, Instant now)
    {
        if (pours.Select(pour => pour.At).Distinct().Count() < Fewest)
        {
            return new DrainTrend(pours.Count, 0, DrainTrendVerdict.TooFew, null, null, null, null, null, null, null, null, null);
        }

        var first = pours.Min(pour => pour.At);
        var days = pours.Select(pour => (pour.At - first).TotalDays).ToArray();
        var open = pours.Select(pour => pour.Openness).ToArray();
        var (slope, low, high) = Slope(days, open);
        var (middleDay, middleOpen) = (Median(days), Median(open));
        var last = Math.Max(0, middleOpen + (slope * (days.Max() - middleDay)));
        var newest = pours.MaxBy(pour => pour.At).Openness;
        var verdict = newest < limit ? DrainTrendVerdict.Slow : high < 0 ? DrainTrendVerdict.Falling : DrainTrendVerdict.NoTrend;
        Instant? Meets(double by) => by < 0 && verdict != DrainTrendVerdict.Slow ? Ahead(middleDay + ((limit - middleOpen) / by)) : null;
        Instant? Ahead(double day) => Duration.FromDays(day) is var at && first + at > now + Horizon ? null : Instant.Max(now, first + at);
        return new DrainTrend(pours.Count, days.Max(), verdict, slope, low, high, last, pours.Max(pour => pour.At), first, verdict == DrainTrendVerdict.Falling ? Meets(slope) : null, Meets(low), verdict == DrainTrendVerdict.Falling ? Meets(high) : null);
    }

    /// <summary>Median pairwise slope and the ends of its 95 % interval; equal abscissas give no slope, ties in either lessen the variance.</summary>
    /// <param name="normal">The point of the normal distribution that sets the level; 95 % where it is left out.</param>
    public static (double Slope, double Low, double High) Slope(IReadOnlyList<double> x, IReadOnlyList<double> y, double normal = Normal975)
    {
        var slopes = (from i in Enumerable.Range(0, x.Count) from j in Enumerable.Range(i + 1, x.Count - i - 1) where x[i] != x[j] let slope = (y[j] - y[i]) / (x[j] - x[i]) orderby slope select slope).ToArray();
        var count = (double)x.Count;
        var variance = ((count * (count - 1) * ((2 * count) + 5)) - Ties(x) - Ties(y)) / 18;
        var reach = normal * Math.Sqrt(Math.Max(0, variance));
        var lower = (int)Math.Round((slopes.Length - reach) / 2, MidpointRounding.ToEven) - 1;
        var upper = (int)Math.Round((slopes.Length + reach) / 2, MidpointRounding.ToEven);
        return (Median(slopes), slopes[Math.Max(lower, 0)], slopes[Math.Min(upper, slopes.Length - 1)]);
    }

    private static double Ties(IReadOnlyList<double> values) => values.GroupBy(value => value).Where(same => same.Count() > 1).Sum(same => (double)same.Count() * (same.Count() - 1) * ((2 * same.Count()) + 5));

    private static double Median(IReadOnlyList<double> values)
    {
        var sorted = values.Order().ToArray();
        return sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : (sorted[(sorted.Length / 2) - 1] + sorted[sorted.Length / 2]) / 2;
    }
}
