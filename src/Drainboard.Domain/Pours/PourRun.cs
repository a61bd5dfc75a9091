namespace Drainboard.Domain.Pours;

/// <summary>How the person saw it run; without a clean reference it is all there is to go by.</summary>
public enum PourRun
{
    Freely,
    Slowly,

    /// <summary>It stood when the watch was stopped.</summary>
    NotAtAll,
}
