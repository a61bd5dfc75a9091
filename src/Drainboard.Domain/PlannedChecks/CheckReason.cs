namespace Drainboard.Domain.PlannedChecks;

/// <summary>What makes a planned check due.</summary>
public enum CheckReason
{
    EveryStay,

    Interval,

    /// <summary>Pours of a fixture that drains through it fall towards slow, or are.</summary>
    Pours,

    /// <summary>The cold that is known of the stand.</summary>
    Cold,
}
