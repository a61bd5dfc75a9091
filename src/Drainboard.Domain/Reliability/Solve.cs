namespace Drainboard.Domain.Reliability;

/// <summary>Roots of monotone functions, to the last digits that a double has.</summary>
internal static class Solve
{
    private const int MostSteps = 200;

    /// <summary>
    /// Where an increasing or decreasing function passes zero between two points of different sign. Regula falsi with halving (Illinois), and
    /// a bisection wherever that is slow: never leaves the bracket.
    /// </summary>
    /// <exception cref="ArgumentException">Both ends have the same sign.</exception>
    public static double Zero(Func<double, double> of, double low, double high)
    {
        var (atLow, atHigh) = (of(low), of(high));
        if (atLow == 0)
        {
            return low;
        }

        if (atHigh == 0)
        {
            return high;
        }

        if (double.IsNaN(atLow) || double.IsNaN(atHigh) || Math.Sign(atLow) == Math.Sign(atHigh))
        {
            throw new ArgumentException("The function does not pass zero between these points.");
        }

        for (var step = 0; step < MostSteps; step++)
        {
            var width = high - low;
            var between = step % 3 == 2 ? low + (width / 2) : high - (atHigh * width / (atHigh - atLow));
            if (between <= low || between >= high)
            {
                between = low + (width / 2);
            }

            var value = of(between);
            if (value == 0 || width <= 4.5e-16 * Math.Abs(between))
            {
                return between;
            }

            if (Math.Sign(value) == Math.Sign(atLow))
            {
                (low, atLow, atHigh) = (between, value, atHigh / 2);
            }
            else
            {
                (high, atHigh, atLow) = (between, value, atLow / 2);
            }
        }

        return low + ((high - low) / 2);
    }
}
