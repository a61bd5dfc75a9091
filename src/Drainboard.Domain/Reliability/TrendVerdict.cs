namespace Drainboard.Domain.Reliability;

/// <summary>What the times of a fixture's faults say about where it is going.</summary>
public enum TrendVerdict
{
    TooFew,
    NoTrend,
    Worsening,
    Improving,
}
