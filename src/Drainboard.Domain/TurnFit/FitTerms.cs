namespace Drainboard.Domain.TurnFit;

/// <summary>
/// What turn fit goes by beside the fleet's own times: when a place can be reached, and what else a job takes. Minutes throughout. Common
/// practice, no source, from memory, or our choice; every one is the installation's to change, and a turn may bring its own windows.
/// </summary>
public sealed record FitTerms
{
    public static FitTerms Usual { get; } = new();

    /// <summary>After on blocks: doors and passengers off.</summary>
    public double DeplaningMinutes { get; init; } = 10;

    /// <summary>Before off blocks: passengers on, doors, papers.</summary>
    public double BoardingMinutes { get; init; } = 12;

    /// <summary>After on blocks, before anybody is under the aircraft.</summary>
    public double OutsideAfterArrival { get; init; } = 4;

    /// <summary>Before off blocks, when everybody is out from under it.</summary>
    public double OutsideBeforeDeparture { get; init; } = 8;

    /// <summary>After on blocks: catering begins.</summary>
    public double CateringAfter { get; init; } = 12;

    public double CateringMinutes { get; init; } = 15;

    /// <summary>A shorter turn has no catering that keeps people from the galleys.</summary>
    public double CateringFromTurn { get; init; } = 60;

    public double CleaningAfter { get; init; } = 10;

    public double CleaningMinutes { get; init; } = 10;

    /// <summary>A shorter turn is cleaned by the crew.</summary>
    public double CleaningFromTurn { get; init; } = 60;

    public double ServicingAfter { get; init; } = 10;

    public double ServicingMinutes { get; init; } = 12;

    /// <summary>Kept free at the end for writing it up and signing.</summary>
    public double PaperworkMinutes { get; init; } = 5;

    /// <summary>Kept free at the end for the call to control, should it not be done.</summary>
    public double ControlCallMinutes { get; init; } = 3;

    /// <summary>A panel off and on again.</summary>
    public double AccessMinutes { get; init; } = 3;

    /// <summary>What is hot is left to cool before it is touched.</summary>
    public double CoolDownMinutes { get; init; } = 10;

    /// <summary>So many jobs weigh as much as what was believed before.</summary>
    public double BeliefWeight { get; init; } = 5;

    /// <summary>A stay can take an item, and a plan counts on a time, that is enough with this chance.</summary>
    public double GoodChance { get; init; } = 0.7;

    /// <summary>Why these cannot be gone by, or null.</summary>
    public Refusal? WhyNot() =>
        new[] { DeplaningMinutes, BoardingMinutes, OutsideAfterArrival, OutsideBeforeDeparture, CateringAfter, CateringMinutes, CateringFromTurn, CleaningAfter, CleaningMinutes, CleaningFromTurn, ServicingAfter, ServicingMinutes, PaperworkMinutes, ControlCallMinutes, AccessMinutes, CoolDownMinutes }.Any(minutes => !(minutes is >= 0 and <= 600))
            ? new Refusal("minutes", "Minutes are 0 to 600.")
        : !(BeliefWeight is >= 1 and <= 1000)
            ? new Refusal("weight", "What was believed before weighs as much as 1 to 1,000 jobs.")
        : !(GoodChance is >= 0.5 and <= 0.99)
            ? new Refusal("chance", "The chance that a plan counts on is 0.5 to 0.99.")
        : null;
}
