using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Reliability;

/// <summary>
/// How one fixture or place stands against its fleet, in one numbered snapshot. Those without a single fault are tested, and not kept.
/// </summary>
public sealed class Standing
{
    private Standing()
    {
    }

    internal Standing(StandingSubject subject, FixtureRate rate, double fleetRate, RateRatio against)
    {
        (Scope, Tail, Layout, Position, Kind, Family) = (subject.Scope, subject.Tail, subject.Layout, subject.Position, subject.Kind, subject.Family);
        (Events, Exposure, Rate, Low, High) = (rate.Count.Events, rate.Count.Exposure, rate.Rate, rate.Limits95.Low, rate.Limits95.High);
        (FleetRate, Ratio, RatioLow) = (fleetRate, against.Ratio is { } ratio && double.IsFinite(ratio) ? ratio : null, against.Limits.Low);
        (PWorse, PAdjusted, PosteriorMean, Posterior05, IsFlagged) = (rate.PWorse, rate.PAdjusted, rate.PosteriorMean, rate.Posterior05, rate.IsFlagged);
    }

    public int Snapshot { get; internal set; }

    /// <summary>1 is the worst.</summary>
    public int Rank { get; internal set; }

    public StandingScope Scope { get; private set; }

    public TailId? Tail { get; private set; }

    /// <summary>The layout's code, over all its versions.</summary>
    public string Layout { get; private set; } = "";

    public Position Position { get; private set; }

    public FixtureKind Kind { get; private set; }

    public SymptomFamily? Family { get; private set; }

    public int Events { get; private set; }

    /// <summary>In the unit of the snapshot.</summary>
    public double Exposure { get; private set; }

    public double Rate { get; private set; }

    /// <summary>The exact 95 % interval of the rate.</summary>
    public double Low { get; private set; }

    public double High { get; private set; }

    /// <summary>Of all that it is compared with, itself included.</summary>
    public double FleetRate { get; private set; }

    /// <summary>Against the rest of the fleet without it; null where the rest has no fault.</summary>
    public double? Ratio { get; private set; }

    /// <summary>The lower end of the ratio's 95 % interval.</summary>
    public double RatioLow { get; private set; }

    public double PWorse { get; private set; }

    public double PAdjusted { get; private set; }

    public double PosteriorMean { get; private set; }

    public double Posterior05 { get; private set; }

    public bool IsFlagged { get; private set; }

    /// <summary>What it is ranked by: how many times its fleet's rate the true rate is, all but certainly. So fleets of different kinds share one list.</summary>
    public double Excess => Posterior05 / FleetRate;
}
