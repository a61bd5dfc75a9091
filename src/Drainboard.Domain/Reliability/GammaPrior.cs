using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace Drainboard.Domain.Reliability;

/// <summary>
/// How the true rates of a fleet's fixtures are spread: gamma with shape <paramref name="Alpha"/> and rate <paramref name="Beta"/> (in
/// exposure), found from the fleet itself by maximum likelihood of the negative binomial (empirical Bayes; example: ten pumps, Gaver and
/// O'Muircheartaigh 1987). A fixture's own rate is then drawn toward the fleet's, the more the less it has flown.
/// </summary>
public sealed record GammaPrior(double Alpha, double Beta)
{
    // Beyond this shape the fixtures do not differ more than chance makes them.
    private const double LargestAlpha = 1e6;
    private const double SmallestAlpha = 1e-6;
    private const double LeastGain = 1e-6;

    public double Mean => Alpha / Beta;

    /// <summary>
    /// The prior of a fleet, given as how many fixtures have so many events in such an exposure; null where it cannot be told from one
    /// common rate (no events at all, too few fixtures, or no more spread than chance).
    /// </summary>
    public static GammaPrior? Fit(IReadOnlyCollection<(int Events, double Exposure, int Fixtures)> fleet)
    {
        var cells = fleet.Where(cell => cell.Fixtures > 0 && cell.Exposure > 0).ToArray();
        var events = cells.Sum(cell => (double)cell.Events * cell.Fixtures);
        if (events == 0 || cells.Sum(cell => cell.Fixtures) < 2)
        {
            return null;
        }

        // By the envelope theorem the profile's slope in alpha is the likelihood's own, at the beta that is best for that alpha.
        double Slope(double logAlpha)
        {
            var alpha = Math.Exp(logAlpha);
            var beta = BestBeta(cells, alpha);
            return cells.Sum(cell => cell.Fixtures * (Harmonic(alpha, cell.Events) - Math.Log(1 + (cell.Exposure / beta))));
        }

        var (low, high) = (Math.Log(SmallestAlpha), Math.Log(LargestAlpha));
        if (Slope(high) >= 0 || Slope(low) <= 0)
        {
            return null;
        }

        var found = Math.Exp(Solve.Zero(Slope, low, high));
        var prior = new GammaPrior(found, BestBeta(cells, found));
        var pooled = events / cells.Sum(cell => cell.Exposure * cell.Fixtures);
        return prior.LogLikelihood(cells) - cells.Sum(cell => cell.Fixtures * ((cell.Events * Math.Log(pooled * cell.Exposure)) - (pooled * cell.Exposure) - SpecialFunctions.FactorialLn(cell.Events))) < LeastGain ? null : prior;
    }

    public double PosteriorMean(int events, double exposure) => (Alpha + events) / (Beta + exposure);

    /// <summary>The rate that the fixture's true one exceeds with a chance of 1 - <paramref name="p"/>.</summary>
    public double PosteriorQuantile(int events, double exposure, double p) => Gamma.InvCDF(Alpha + events, Beta + exposure, p);

    /// <summary>The chance that the fixture's true rate is above this one.</summary>
    public double PosteriorAbove(int events, double exposure, double rate) => SpecialFunctions.GammaUpperRegularized(Alpha + events, (Beta + exposure) * rate);

    public double LogLikelihood(IEnumerable<(int Events, double Exposure, int Fixtures)> fleet) =>
        fleet.Sum(cell => cell.Fixtures * (SpecialFunctions.GammaLn(Alpha + cell.Events) - SpecialFunctions.GammaLn(Alpha) - SpecialFunctions.FactorialLn(cell.Events) + (Alpha * Math.Log(Beta / (Beta + cell.Exposure))) + (cell.Events == 0 ? 0 : cell.Events * Math.Log(cell.Exposure / (Beta + cell.Exposure)))));

    // Falls as beta grows: its one zero is the best beta for an alpha.
    private static double BestBeta((int Events, double Exposure, int Fixtures)[] cells, double alpha)
    {
        double Excess(double logBeta)
        {
            var beta = Math.Exp(logBeta);
            return cells.Sum(cell => cell.Fixtures * ((alpha * cell.Exposure) - (cell.Events * beta)) / (beta + cell.Exposure));
        }

        var guess = Math.Log(alpha * cells.Sum(cell => cell.Exposure * cell.Fixtures) / cells.Sum(cell => (double)cell.Events * cell.Fixtures));
        var (low, high) = (guess - 1, guess + 1);
        while (Excess(low) < 0)
        {
            low -= 2;
        }

        while (Excess(high) > 0)
        {
            high += 2;
        }

        return Math.Exp(Solve.Zero(Excess, low, high));
    }

    // digamma(alpha + events) - digamma(alpha), exactly.
    private static double Harmonic(double alpha, int events)
    {
        var sum = 0.0;
        for (var k = 0; k < events; k++)
        {
            sum += 1 / (alpha + k);
        }

        return sum;
    }
}
