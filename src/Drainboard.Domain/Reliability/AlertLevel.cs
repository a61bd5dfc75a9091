namespace Drainboard.Domain.Reliability;

/// <summary>How a programme's alert level is set from its baseline; all are in use, none is law (common practice; Transport Canada AMA 571.101/1, appendix A, gives 1.3 times the mean as its first example).</summary>
public enum AlertMethod
{
    /// <summary>Exact Poisson limit at the month's own exposure: the one to trust at small counts.</summary>
    ExactPoisson,

    /// <summary>Mean of the months' rates and so many standard deviations, over n - 1.</summary>
    MeanAndDeviations,

    /// <summary>1.3 times the mean rate.</summary>
    MeanTimesOnePointThree,
}

/// <summary>One month of a fleet.</summary>
public readonly record struct FleetMonth(int Events, double Exposure);

/// <summary>Whether a month stands out from the months before it. The month that is looked at is never part of its own baseline: in a short baseline it would hide itself.</summary>
/// <param name="BaselineRate">Events over exposure of the baseline, pooled; null without exposure.</param>
/// <param name="Rate">Of the month; null without exposure.</param>
/// <param name="Level">The rate above which it is an alert; null where there is no baseline to set it from.</param>
public sealed record AlertLevel(AlertMethod Method, double? BaselineRate, double? Rate, double? Level, bool IsAlert)
{
    /// <summary>As many as a rolling year has.</summary>
    public const int BaselineMonths = 12;

    /// <summary>False alarms of the exact limit: one month in 741, as three deviations of a normal month (our choice).</summary>
    public const double ExactTail = 0.00135;

    public const double Deviations = 3;
    private const double Factor = 1.3;

    public static AlertLevel Of(AlertMethod method, IReadOnlyList<FleetMonth> baseline, FleetMonth month)
    {
        var flown = baseline.Where(one => one.Exposure > 0).ToArray();
        var exposure = flown.Sum(one => one.Exposure);
        double? mean = exposure > 0 ? flown.Sum(one => one.Events) / exposure : null;
        double? rate = month.Exposure > 0 ? month.Events / month.Exposure : null;
        double? level = (method, mean) switch
        {
            (_, null) => null,
            (AlertMethod.ExactPoisson, { } pooled) => month.Exposure > 0 ? ExactLimit(pooled * month.Exposure) / month.Exposure : null,
            (AlertMethod.MeanAndDeviations, _) => flown.Length < 2 ? null : MeanAndDeviations([.. flown.Select(one => one.Events / one.Exposure)], Deviations),
            (AlertMethod.MeanTimesOnePointThree, { } pooled) => Factor * pooled,
            _ => throw new InvalidOperationException($"Unknown method {method}."),
        };
        return new AlertLevel(method, mean, rate, level, rate > level);
    }

    /// <summary>The largest count that is no alert: the smallest k with P(X above k) at or under the tail.</summary>
    public static int ExactLimit(double mean, double tail = ExactTail)
    {
        var count = 0;
        while (PoissonRate.AtLeast(count + 1, mean) > tail)
        {
            count++;
        }

        return count;
    }

    /// <summary>Mean plus so many standard deviations; over n - 1 unless the operator's programme says n.</summary>
    public static double MeanAndDeviations(IReadOnlyCollection<double> rates, double deviations, bool overN = false)
    {
        var mean = rates.Average();
        return mean + (deviations * Math.Sqrt(rates.Sum(rate => (rate - mean) * (rate - mean)) / (rates.Count - (overN ? 0 : 1))));
    }

    /// <summary>Centre and limits of a count chart at an exposure: the lower one is floored at 0.</summary>
    public static Bounds ChartLimits(double rate, double exposure) => new(Math.Max(0, rate - (Deviations * Math.Sqrt(rate / exposure))), rate + (Deviations * Math.Sqrt(rate / exposure)));

    /// <summary>Three-month running rates: events over exposure, pooled. The mean of three rates is another number.</summary>
    public static IReadOnlyList<double?> RunningRates(IReadOnlyList<FleetMonth> months, int over = 3) =>
        [.. Enumerable.Range(0, Math.Max(0, months.Count - over + 1)).Select(from => months.Skip(from).Take(over).ToArray()).Select(window => window.Sum(one => one.Exposure) is > 0 and var flown ? window.Sum(one => one.Events) / flown : (double?)null)];
}
