using Drainboard.Domain.Defects;

namespace Drainboard.Domain.Rectification;

/// <summary>What a certifying signature says of the work.</summary>
public enum WorkOutcome
{
    Rectified,
    NoFaultFound,

    /// <summary>The work was done and the fault stands: signed for what was done, and the defect is open (or deferred) again.</summary>
    NotRectified,
}

public static class WorkOutcomes
{
    public static string Words(this WorkOutcome outcome) => outcome switch
    {
        WorkOutcome.Rectified => "rectified",
        WorkOutcome.NoFaultFound => "no fault found",
        WorkOutcome.NotRectified => "not rectified",
    };

    /// <summary>How the defect ends by it; null where it does not.</summary>
    public static Closure? Closes(this WorkOutcome outcome) => outcome switch
    {
        WorkOutcome.Rectified => Closure.Rectified,
        WorkOutcome.NoFaultFound => Closure.NoFaultFound,
        WorkOutcome.NotRectified => null,
    };
}
