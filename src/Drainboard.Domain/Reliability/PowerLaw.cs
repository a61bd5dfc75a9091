using MathNet.Numerics.Distributions;

namespace Drainboard.Domain.Reliability;

/// <summary>
/// Faults whose expected number grows as lambda t^beta (power-law process, MIL-HDBK-189): beta above 1 is worsening.
/// </summary>
/// <param name="Beta">By maximum likelihood.</param>
/// <param name="MeanTimeBetweenNow">At the end of the observation, in the unit of the times.</param>
/// <param name="Beta90">From the chi-squared pivot.</param>
public sealed record PowerLaw(double Beta, double Lambda, double MeanTimeBetweenNow, Bounds Beta90)
{
    /// <summary>Fewer tell nothing.</summary>
    public const int FewestEvents = 3;

    internal static PowerLaw Fit(IReadOnlyCollection<double> times, double end, bool endedByFault)
    {
        var count = times.Count;
        var beta = count / times.Sum(time => Math.Log(end / time));
        var degrees = 2 * (endedByFault ? count - 1 : count);
        return new PowerLaw(beta, count / Math.Pow(end, beta), end / (beta * count), new Bounds(beta * Quantile(degrees, 0.05) / (2 * count), beta * Quantile(degrees, 0.95) / (2 * count)));
    }

    private static double Quantile(int degrees, double p) => 2 * Gamma.InvCDF(degrees / 2.0, 1, p);
}
