namespace Drainboard.Domain.Reliability;

/// <summary>What can be said of so many events in such an exposure, in one fleet: the same for every fixture that has them.</summary>
internal readonly record struct Judged(double Rate, Bounds Limits95, double PWorse, double PosteriorMean, double Posterior05)
{
    public FixtureRate For(FixtureCount count, double adjusted, double falseDiscovery) =>
        new(count, Rate, Limits95, PWorse, adjusted, PosteriorMean, Posterior05, adjusted <= falseDiscovery);
}

/// <summary>One fleet of like fixtures: its rate, its prior, and answers that are worked out once for each pair of events and exposure, of which a large fleet has few.</summary>
internal sealed class FleetJudge
{
    private readonly Dictionary<(int Events, double Exposure), Judged> _known = [];
    private readonly Dictionary<(int Events, double Exposure), RateRatio> _ratios = [];
    private readonly int _events;
    private readonly double _exposure;

    /// <param name="fleet">How many fixtures have so many events in such an exposure.</param>
    public FleetJudge(IEnumerable<(int Events, double Exposure, int Fixtures)> fleet)
    {
        // In a stated order, so that the same fleet gives the same last digit.
        var cells = fleet.OrderBy(cell => cell.Exposure).ThenBy(cell => cell.Events).ToArray();
        (_events, _exposure) = (cells.Sum(cell => cell.Events * cell.Fixtures), cells.Sum(cell => cell.Exposure * cell.Fixtures));
        Prior = GammaPrior.Fit(cells);
    }

    public double Rate => _events / _exposure;

    public GammaPrior? Prior { get; }

    public Judged Of(int events, double exposure)
    {
        if (!_known.TryGetValue((events, exposure), out var judged))
        {
            _known[(events, exposure)] = judged = Work(events, exposure);
        }

        return judged;
    }

    /// <summary>Against the rest of the fleet without it.</summary>
    public RateRatio Against(int events, double exposure)
    {
        if (!_ratios.TryGetValue((events, exposure), out var ratio))
        {
            var rest = _exposure - exposure;
            _ratios[(events, exposure)] = ratio = rest > 0 ? RateRatio.Of(events, exposure, _events - events, rest) : new RateRatio(null, new Bounds(0, double.PositiveInfinity), 1, 1);
        }

        return ratio;
    }

    private Judged Work(int events, double exposure)
    {
        var rest = _exposure - exposure;
        var worse = events == 0 || rest <= 0 ? 1 : RateRatio.PoissonGreater(events, exposure, _events - events, rest);
        return new Judged(events / exposure, PoissonRate.Limits(events, exposure), worse, Prior?.PosteriorMean(events, exposure) ?? Rate, Prior?.PosteriorQuantile(events, exposure, 0.05) ?? Rate);
    }
}
