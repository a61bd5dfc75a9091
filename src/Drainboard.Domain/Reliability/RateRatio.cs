using MathNet.Numerics;

namespace Drainboard.Domain.Reliability;

/// <summary>
/// How many times one rate is another, given the total (conditional binomial, exact): a fixture against the rest of its fleet, or after a
/// change against before it.
/// </summary>
/// <param name="Ratio">Infinite where the other has no events; null where neither has.</param>
/// <param name="PGreater">One-sided: as many events in the first or more, if both rates were the same. 1 where the first has none.</param>
/// <param name="PLess">One-sided: as few or fewer.</param>
public sealed record RateRatio(double? Ratio, Bounds Limits, double PGreater, double PLess)
{
    /// <exception cref="ArgumentOutOfRangeException">An exposure that is not above zero, negative events, or a confidence outside 0 to 1.</exception>
    public static RateRatio Of(int events, double exposure, int otherEvents, double otherExposure, double confidence = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(events);
        ArgumentOutOfRangeException.ThrowIfNegative(otherEvents);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(exposure);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(otherExposure);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(confidence);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(confidence, 1);
        var total = events + otherEvents;
        if (total == 0)
        {
            return new RateRatio(null, new Bounds(0, double.PositiveInfinity), 1, 1);
        }

        var tail = (1 - confidence) / 2;
        var low = events == 0 ? 0 : Odds(Share(tail, events, otherEvents + 1)) * otherExposure / exposure;
        var high = otherEvents == 0 ? double.PositiveInfinity : otherExposure / exposure / Odds(Share(tail, otherEvents, events + 1));
        var ratio = otherEvents == 0 ? double.PositiveInfinity : events / exposure / (otherEvents / otherExposure);
        return new RateRatio(ratio, new Bounds(low, high), PoissonGreater(events, exposure, otherEvents, otherExposure), events == 0 ? Math.Pow(otherExposure / (exposure + otherExposure), total) : otherEvents == 0 ? 1 : SpecialFunctions.BetaRegularized(otherEvents, events + 1, otherExposure / (exposure + otherExposure)));
    }

    /// <summary>One-sided, alone: it is what a whole fleet is tested by.</summary>
    public static double PoissonGreater(int events, double exposure, int otherEvents, double otherExposure) =>
        events == 0 ? 1 : SpecialFunctions.BetaRegularized(events, otherEvents + 1, exposure / (exposure + otherExposure));

    private static double Odds(double share) => share / (1 - share);

    // The share at which the beta function has this tail (Clopper and Pearson 1934). Solved for its logarithm: it may be very small.
    private static double Share(double tail, double a, double b)
    {
        double Above(double log) => Math.Log(SpecialFunctions.BetaRegularized(a, b, Math.Exp(log))) - Math.Log(tail);
        var low = Math.Log(a / (a + b));
        while (Above(low) > 0)
        {
            low--;
        }

        return Math.Exp(Solve.Zero(Above, low, -1e-300));
    }
}
