using MathNet.Numerics;

namespace Drainboard.Domain.Reliability;

/// <summary>One step of the mean cumulative function.</summary>
/// <param name="AtRisk">Units still watched at this time; one whose watch ends here still counts.</param>
/// <param name="Mean">Faults a unit has had by now, on average.</param>
/// <param name="Variance">Robust (Lawless and Nadeau 1995): it allows for units that differ and for faults that come in runs.</param>
public sealed record MeanCumulativeStep(double At, int Faults, int AtRisk, double Mean, double Variance)
{
    /// <summary>On the logarithm's scale, so that it stays above zero.</summary>
    public Bounds Limits(double confidence = 0.95)
    {
        var factor = Math.Exp(Math.Sqrt(2) * SpecialFunctions.ErfInv(confidence) * Math.Sqrt(Variance) / Mean);
        return new Bounds(Mean / factor, Mean * factor);
    }
}

/// <summary>The mean number of faults of a fixture by its age, over units that are watched for different times (Nelson 1988, 1995). Dividing all faults by all units understates it.</summary>
public static class MeanCumulative
{
    public static IReadOnlyList<MeanCumulativeStep> Of(IReadOnlyCollection<ObservedUnit> units)
    {
        var ends = units.Select(unit => unit.End).Order().ToArray();
        var faults = units.SelectMany((unit, index) => unit.Faults.Where(at => at <= unit.End).Select(at => (At: at, Unit: index))).OrderBy(fault => fault.At).ToArray();
        var unitEnds = units.Select(unit => unit.End).ToArray();
        var parts = new double[units.Count];
        var steps = new List<MeanCumulativeStep>();
        var mean = 0.0;
        foreach (var now in faults.GroupBy(fault => fault.At))
        {
            var risk = ends.Length - FirstAtOrAfter(ends, now.Key);
            var count = now.Count();
            mean += (double)count / risk;
            for (var index = 0; index < parts.Length; index++)
            {
                if (unitEnds[index] >= now.Key)
                {
                    parts[index] -= (double)count / risk / risk;
                }
            }

            foreach (var fault in now)
            {
                parts[fault.Unit] += 1.0 / risk;
            }

            steps.Add(new MeanCumulativeStep(now.Key, count, risk, mean, parts.Sum(part => part * part)));
        }

        return steps;
    }

    private static int FirstAtOrAfter(double[] sorted, double value)
    {
        var (low, high) = (0, sorted.Length);
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = sorted[middle] < value ? (middle + 1, high) : (low, middle);
        }

        return low;
    }
}
