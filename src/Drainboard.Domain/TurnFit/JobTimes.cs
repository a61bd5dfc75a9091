using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.TurnFit;

/// <summary>
/// What this fleet's own jobs say of times and shares, drawn toward what was believed before while they are few: a layout's toward the rest
/// of the fleet's, and that toward the trade's. Times are lognormal with a normal-inverse-gamma style update (mean and variance of the
/// logarithm, each belief worth so many jobs); the spread includes that the mean is not known. Our arithmetic.
/// </summary>
public sealed class JobTimes
{
    private readonly FitTerms _terms;
    private readonly Dictionary<(string Layout, JobKind Kind), Logs> _byLayout = [];
    private readonly Dictionary<JobKind, Logs> _byKind = [];
    private readonly Dictionary<(string Layout, FixtureKind Fixture, SymptomFamily Family, JobKind Kind), int> _counts = [];

    public JobTimes(IEnumerable<PastJob> jobs, FitTerms terms)
    {
        _terms = terms;
        foreach (var job in jobs)
        {
            var key = (job.Layout, job.Fixture, job.Family, job.Kind);
            _counts[key] = _counts.GetValueOrDefault(key) + 1;
            if (job.Minutes is > 0 and { } minutes)
            {
                _byLayout[(job.Layout, job.Kind)] = _byLayout.GetValueOrDefault((job.Layout, job.Kind)).With(Math.Log(minutes));
                _byKind[job.Kind] = _byKind.GetValueOrDefault(job.Kind).With(Math.Log(minutes));
            }
        }
    }

    /// <summary>Before anything is opened: which jobs it may turn out to be, the likeliest first.</summary>
    public IReadOnlyList<JobTime> For(string layout, FixtureKind fixture, SymptomFamily family)
    {
        var usual = JobKinds.UsualShares(fixture, family).ToDictionary(one => one.Kind, one => one.Share);
        var own = Enum.GetValues<JobKind>().ToDictionary(kind => kind, kind => _counts.GetValueOrDefault((layout, fixture, family, kind)));
        var total = own.Values.Sum();
        const double TradeWeight = Isolation.BlockagePriors.TradeWeight;
        return
        [
            .. own.Keys.Select(kind => (Kind: kind, Chance: ((usual.GetValueOrDefault(kind) * TradeWeight) + own[kind]) / (TradeWeight + total))).Where(one => one.Chance > 0)
                .Select(one => Time(layout, one.Kind, one.Chance)).OrderByDescending(one => one.Chance).ThenBy(one => one.Kind),
        ];
    }

    private JobTime Time(string layout, JobKind kind, double chance)
    {
        var (here, all) = (_byLayout.GetValueOrDefault((layout, kind)), _byKind.GetValueOrDefault(kind));
        if (all.Count == 0)
        {
            return new JobTime(kind, chance, kind.Usual(), 0, 0);
        }

        var fleet = Believed(Prior(kind), all.Without(here));
        var (mean, variance, weight) = Believed((fleet.Mean, fleet.Variance), here);
        var sigma = Math.Sqrt(variance * (1 + (1 / weight)));
        return new JobTime(kind, chance, new TaskTime.MedianAndP90(Math.Exp(mean), Math.Exp(mean + (TaskTime.MedianAndP90.Z90 * sigma))), here.Count, all.Count);
    }

    private (double Mean, double Variance, double Weight) Believed((double Mean, double Variance) before, Logs seen)
    {
        var weight = _terms.BeliefWeight + seen.Count;
        var mean = ((_terms.BeliefWeight * before.Mean) + seen.Sum) / weight;
        var apart = seen.Count == 0 ? 0 : seen.Sum / seen.Count - before.Mean;
        return (mean, ((_terms.BeliefWeight * before.Variance) + seen.Squares + (_terms.BeliefWeight * seen.Count / weight * apart * apart)) / weight, weight);
    }

    // The lognormal time with the median and the 90 % quantile of the trade's three points.
    private static (double Mean, double Variance) Prior(JobKind kind)
    {
        var usual = WorkTime.Of([kind.Usual()]);
        var (median, p90) = (Math.Log(usual.Quantile(0.5)), Math.Log(usual.Quantile(0.9)));
        return (median, Math.Pow((p90 - median) / TaskTime.MedianAndP90.Z90, 2));
    }

    private readonly record struct Logs(int Count, double Sum, double SquareSum)
    {
        /// <summary>Squared distances from their own mean, added up.</summary>
        public double Squares => Count == 0 ? 0 : Math.Max(0, SquareSum - (Sum * Sum / Count));

        public Logs With(double value) => new(Count + 1, Sum + value, SquareSum + (value * value));

        public Logs Without(Logs part) => new(Count - part.Count, Sum - part.Sum, SquareSum - part.SquareSum);
    }
}
