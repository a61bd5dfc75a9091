using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace Drainboard.Domain.Reliability;

/// <summary>
/// Events in an exposure (sectors, hours or days), taken as Poisson: independent of each other, at a constant rate in the window, duplicates
/// merged first. Every tail is a regularised incomplete gamma or beta function, never one less a cumulative probability, which loses it.
/// </summary>
public static class PoissonRate
{
    /// <summary>P(X is at least <paramref name="events"/>) where <paramref name="mean"/> are expected; 1 for none.</summary>
    public static double AtLeast(int events, double mean) => events <= 0 ? 1 : mean <= 0 ? 0 : SpecialFunctions.GammaLowerRegularized(events, mean);

    /// <summary>P(X is at most <paramref name="events"/>).</summary>
    public static double AtMost(int events, double mean) => events < 0 ? 0 : mean <= 0 ? 1 : SpecialFunctions.GammaUpperRegularized(events + 1, mean);

    /// <summary>The exact two-sided interval of a rate (Garwood 1936): from 0 where there are no events, and never the single point 0.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No exposure, negative events, or a confidence outside 0 to 1.</exception>
    public static Bounds Limits(int events, double exposure, double confidence = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(events);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(exposure);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(confidence);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(confidence, 1);
        var tail = (1 - confidence) / 2;
        return new Bounds(events == 0 ? 0 : Gamma.InvCDF(events, 1, tail) / exposure, (events == 0 ? -Math.Log(tail) : Gamma.InvCDF(events + 1, 1, 1 - tail)) / exposure);
    }
}
