namespace Drainboard.Domain.Reliability;

/// <summary>
/// The false discovery rate (Benjamini and Hochberg 1995): of those that are named, this share at most is expected to be named by chance,
/// however many were tested. With counts as small as these it errs on the quiet side.
/// </summary>
public static class FalseDiscovery
{
    /// <summary>Adjusted p-values in the order given, over all of them: reject what is at or under the rate. Equal ones stay equal.</summary>
    public static double[] Adjust(IReadOnlyList<double> ps) => Adjust(ps, ps.Count);

    /// <param name="tested">How many were tested in all; those not in the list have a p of 1.</param>
    public static double[] Adjust(IReadOnlyList<double> ps, int tested)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(tested, ps.Count);
        var order = Enumerable.Range(0, ps.Count).OrderBy(index => ps[index]).ToArray();
        var adjusted = new double[ps.Count];
        var least = 1.0;
        for (var rank = ps.Count; rank >= 1; rank--)
        {
            least = Math.Min(least, ps[order[rank - 1]] * tested / rank);
            adjusted[order[rank - 1]] = least;
        }

        return adjusted;
    }
}
