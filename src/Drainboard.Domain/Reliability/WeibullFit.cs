using MathNet.Numerics;

namespace Drainboard.Domain.Reliability;

/// <summary>
/// A Weibull life by maximum likelihood from ages that ended in a blockage and ages that did not. Shape above 1 is wear-out: only then does
/// cleaning by interval help. Ages whose beginning was not seen make the shape look larger than it is; leave them out.
/// </summary>
/// <param name="Shape90">By profile likelihood; it need not be symmetric.</param>
public sealed record WeibullFit(double Shape, double Scale, double LogLikelihood, Bounds Shape90)
{
    // Half the 90 % point of chi-squared with one degree of freedom.
    private const double HalfChi90 = 2.705543454095404 / 2;

    private const double Smallest = 1e-3;
    private const double Largest = 1e3;

    /// <summary>Whether the data show wear-out: the whole interval of the shape is above 1.</summary>
    public bool ShowsWearOut => Shape90.Low > 1;

    public double MeanLife => Scale * SpecialFunctions.Gamma(1 + (1 / Shape));

    /// <summary>The chance to be blocked by this age.</summary>
    public double BlockedBy(double time)
    {
        // 1 - exp(-x) as 2 exp(-x/2) sinh(x/2): no digits are lost at small ages (the library's expm1 keeps eight of them).
        var half = time <= 0 ? 0 : Math.Pow(time / Scale, Shape) / 2;
        return half > 350 ? 1 : 2 * Math.Exp(-half) * Math.Sinh(half);
    }

    public double Hazard(double time) => Shape / Scale * Math.Pow(time / Scale, Shape - 1);

    /// <summary>Null with fewer than two different ages of blockages: no shape can be told from them.</summary>
    /// <exception cref="ArgumentException">An age that is not above zero.</exception>
    public static WeibullFit? Of(IReadOnlyCollection<Age> ages)
    {
        if (ages.Any(age => !(age.Time > 0) || !double.IsFinite(age.Time)))
        {
            throw new ArgumentException("Ages are above zero.");
        }

        var blocked = ages.Where(age => age.Blocked).Select(age => age.Time).ToArray();
        if (blocked.Length < 2 || (blocked.Distinct().Count() < 2 && ages.All(age => age.Time <= blocked[0])))
        {
            return null;
        }

        // In units of the longest age: powers stay finite.
        var unit = ages.Max(age => age.Time);
        var logs = ages.Select(age => Math.Log(age.Time / unit)).ToArray();
        var (count, sum) = (blocked.Length, blocked.Sum(time => Math.Log(time / unit)));

        double Slope(double shape)
        {
            var (total, weighted) = (0.0, 0.0);
            foreach (var log in logs)
            {
                var power = Math.Exp(shape * log);
                total += power;
                weighted += power * log;
            }

            return (1 / shape) + (sum / count) - (weighted / total);
        }

        double Scale(double shape) => Math.Pow(logs.Sum(log => Math.Exp(shape * log)) / count, 1 / shape);
        double Likelihood(double shape) => (count * (Math.Log(shape) - Math.Log(logs.Sum(log => Math.Exp(shape * log)) / count) - 1)) + ((shape - 1) * sum);

        if (Slope(Largest) >= 0)
        {
            return null;
        }

        var found = Solve.Zero(Slope, Smallest, Largest);
        var best = Likelihood(found);
        double Drop(double shape) => best - Likelihood(shape) - HalfChi90;
        var high = Drop(Largest) > 0 ? Solve.Zero(Drop, found, Largest) : double.PositiveInfinity;
        return new WeibullFit(found, Scale(found) * unit, best - (count * Math.Log(unit)), new Bounds(Drop(Smallest) > 0 ? Solve.Zero(Drop, Smallest, found) : 0, high));
    }
}
