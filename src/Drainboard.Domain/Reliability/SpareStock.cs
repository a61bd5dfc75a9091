namespace Drainboard.Domain.Reliability;

/// <summary>
/// How many spares serve a period: the least stock with P(demand is at most the stock) at or above the service level, for Poisson demand
/// (the ready rate; published figures that use "fewer than" are lower).
/// </summary>
/// <param name="Achieved">P(demand is at most <paramref name="Stock"/>).</param>
public sealed record SpareStock(double MeanDemand, int Stock, double Achieved)
{
    /// <summary>Demand beyond this is no matter of spares on a shelf.</summary>
    public const double LargestMean = 1e6;

    /// <exception cref="ArgumentOutOfRangeException">A negative mean, one beyond <see cref="LargestMean"/>, or a service outside 0 to 1.</exception>
    public static SpareStock For(double meanDemand, double service)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(meanDemand);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(meanDemand, LargestMean);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(service);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(service, 1);
        var (low, high) = (-1, 1);
        while (PoissonRate.AtMost(high, meanDemand) < service)
        {
            (low, high) = (high, high * 2);
        }

        while (high - low > 1)
        {
            var middle = low + ((high - low) / 2);
            (low, high) = PoissonRate.AtMost(middle, meanDemand) < service ? (middle, high) : (low, middle);
        }

        return new SpareStock(meanDemand, high, PoissonRate.AtMost(high, meanDemand));
    }

    /// <summary>Expected demands that wait, at any moment, with this stock (Palm).</summary>
    public static double ExpectedBackorders(double meanDemand, int stock) =>
        meanDemand - stock + Enumerable.Range(0, stock).Sum(demand => (stock - demand) * (PoissonRate.AtMost(demand, meanDemand) - PoissonRate.AtMost(demand - 1, meanDemand)));
}
