using MathNet.Numerics;

namespace Drainboard.Domain.Reliability;

/// <summary>
/// Whether the faults of one repairable fixture come faster or slower, from the times at which they came since the observation began, in
/// the order in which they came. The end of the observation is given, never guessed from the last fault. Laplace's test decides, exactly
/// where there are fewer than ten faults; the MIL-HDBK-189 test stands beside it, and the two can disagree (they do on the NIST case study).
/// </summary>
/// <param name="LaplaceU">Above zero: faults come late in the time, so it is worsening. Null without faults to judge.</param>
/// <param name="LaplaceP">Two-sided; exact (Irwin-Hall) for fewer than ten, from the normal distribution otherwise.</param>
/// <param name="ChiSquare">Small is worsening.</param>
public sealed record FaultTrend(double? LaplaceU, double? LaplaceP, double? ChiSquare, int? DegreesOfFreedom, double? ChiSquareP, PowerLaw? Growth, TrendVerdict Verdict)
{
    private const double Level = 0.05;
    private const int ExactBelow = 10;

    /// <param name="times">Each above zero and not after the end; equal ones may stand.</param>
    /// <param name="endedByFault">The observation was stopped at the last fault, and by it.</param>
    /// <exception cref="ArgumentException">A time that is not above zero or is after the end, or an end by a fault that is not the last one.</exception>
    public static FaultTrend Of(IReadOnlyCollection<double> times, double end, bool endedByFault = false)
    {
        if (!double.IsFinite(end) || end <= 0 || times.Any(time => !(time > 0) || time > end) || (endedByFault && (times.Count == 0 || times.Max() < end)))
        {
            throw new ArgumentException("Times are above zero and not after the end; where a fault ended the observation, the last one is the end.");
        }

        // The fault that ended it says nothing of its own.
        var judged = endedByFault ? times.Order().SkipLast(1).ToArray() : [.. times];
        var count = judged.Length;
        if (count == 0)
        {
            return new FaultTrend(null, null, null, null, null, null, TrendVerdict.TooFew);
        }

        var u = ((judged.Sum() / count) - (end / 2)) / (end / Math.Sqrt(12.0 * count));
        var p = count < ExactBelow ? Math.Min(1, 2 * Math.Min(SumAtLeast(count, judged.Sum() / end), SumAtLeast(count, count - (judged.Sum() / end)))) : SpecialFunctions.Erfc(Math.Abs(u) / Math.Sqrt(2));
        var half = judged.Sum(time => Math.Log(end / time));
        var chiP = Math.Min(1, 2 * Math.Min(half == 0 ? 0 : SpecialFunctions.GammaLowerRegularized(count, half), half == 0 ? 1 : SpecialFunctions.GammaUpperRegularized(count, half)));
        return new FaultTrend(u, p, 2 * half, 2 * count, chiP, times.Count >= PowerLaw.FewestEvents && half > 0 ? PowerLaw.Fit(times, end, endedByFault) : null, count < 2 ? TrendVerdict.TooFew : p > Level ? TrendVerdict.NoTrend : u > 0 ? TrendVerdict.Worsening : TrendVerdict.Improving);
    }

    /// <summary>P(the sum of so many uniform numbers is at least x): Irwin and Hall 1927. From the shorter end, where nothing cancels.</summary>
    public static double SumAtLeast(int count, double x)
    {
        if (x < count / 2.0)
        {
            return 1 - SumAtLeast(count, count - x);
        }

        var (sum, choose) = (0.0, 1.0);
        for (var k = 0; k <= count - x; k++)
        {
            sum += (k % 2 == 0 ? 1 : -1) * choose * Math.Pow(count - x - k, count);
            choose *= (count - k) / (k + 1.0);
        }

        return sum / SpecialFunctions.Factorial(count);
    }
}
