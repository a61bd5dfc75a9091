namespace Drainboard.Domain.Pours;

/// <summary>What the pours of a fixture say together.</summary>
public enum DrainTrendVerdict
{
    TooFew,

    /// <summary>The whole interval of the slope lies below zero.</summary>
    Falling,

    /// <summary>The interval holds zero, or it rises.</summary>
    NoTrend,

    /// <summary>The newest pour is below the limit already.</summary>
    Slow,
}
