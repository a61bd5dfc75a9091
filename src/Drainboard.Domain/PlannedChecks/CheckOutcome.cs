namespace Drainboard.Domain.PlannedChecks;

/// <summary>How a planned check came out.</summary>
public enum CheckOutcome
{
    Good,

    /// <summary>Something was found, and written up as a report.</summary>
    Finding,

    /// <summary>It could not be reached: it stays due.</summary>
    NotReached,
}

public static class CheckOutcomes
{
    public static string Words(this CheckOutcome outcome) => outcome switch
    {
        CheckOutcome.Good => "good",
        CheckOutcome.Finding => "something found",
        CheckOutcome.NotReached => "not reached",
    };
}
