namespace Drainboard.Domain.Isolation;

/// <summary>
/// What advice goes by beside the drawing and the findings: chances, likelihood ratios and minutes. Common practice, no source, from
/// memory, except where said; every one is the installation's to change, and each piece of advice shows those it used. A ratio says how
/// many times likelier a circumstance is when that part is at fault than when it is not; 1 says nothing.
/// </summary>
public sealed record AdviceTerms
{
    public static AdviceTerms Usual { get; } = new();

    /// <summary>The chance that a blocked segment makes a fixture above it slow.</summary>
    public double Link { get; init; } = 0.95;

    /// <summary>The chance that a fixture is slow for no blockage in the drawing.</summary>
    public double Leak { get; init; } = 0.01;

    /// <summary>Slow aloft and fine on the ground: ice, a mast heater or a valve.</summary>
    public double AloftOnlyAtMastOrValve { get; init; } = 12;

    /// <summary>The same for everything else.</summary>
    public double AloftOnlyElsewhere { get; init; } = 0.3;

    /// <summary>At or below freezing outside: ice in a mast.</summary>
    public double FreezingAtMast { get; init; } = 4;

    /// <summary>It backs up into another fixture: below the place where both meet.</summary>
    public double BackingUpBelow { get; init; } = 15;

    /// <summary>The same for what lies above that place.</summary>
    public double BackingUpAbove { get; init; } = 0.15;

    /// <summary>The last fix did not hold: the place that was opened then.</summary>
    public double DidNotHoldThere { get; init; } = 0.4;

    /// <summary>The same for what lies below it.</summary>
    public double DidNotHoldBelow { get; init; } = 3;

    /// <summary>After this many days since it was opened a segment is as likely blocked as its share says; sooner less, later more (our choice).</summary>
    public int DaysToUsual { get; init; } = 30;

    /// <summary>So many findings weigh as much as the trade's word (our choice).</summary>
    public double TradeWeight { get; init; } = 20;

    /// <summary>One pour and look.</summary>
    public double PourMinutes { get; init; } = 3;

    /// <summary>A deferral with its call to control.</summary>
    public double DeferMinutes { get; init; } = 18;

    /// <summary>A shared panel off and on again.</summary>
    public double AccessMinutes { get; init; } = 5;

    /// <summary>Below this height the generator makes the vacuum, above it the cabin's pressure does, in feet. An editable default of the type, not a constant.</summary>
    public int GeneratorBelowFeet { get; init; } = 16_000;

    /// <summary>Toilets fail low down and flush in the cruise: the generator.</summary>
    public double LowOnlyAtGenerator { get; init; } = 15;

    /// <summary>The same for everything else.</summary>
    public double LowOnlyElsewhere { get; init; } = 0.2;

    /// <summary>Toilets fail in the cruise as well: the generator, which is not at work there.</summary>
    public double CruiseAtGenerator { get; init; } = 0.1;

    /// <summary>The tank reads full: truly full, or a level sensor that says so.</summary>
    public double ReadsFull { get; init; } = 20;

    /// <summary>The same for everything else.</summary>
    public double ReadsFullElsewhere { get; init; } = 0.1;

    /// <summary>The tank was emptied at this stay: truly full.</summary>
    public double EmptiedTrulyFull { get; init; } = 0.05;

    /// <summary>The same for its service valve, which may not have seated.</summary>
    public double EmptiedServiceValve { get; init; } = 5;

    /// <summary>Of write-ups of one toilet this share concerns its whole tank (our choice).</summary>
    public double WholeTankShare { get; init; } = 0.25;

    /// <summary>Why these cannot be gone by, or null.</summary>
    public Refusal? WhyNot() =>
        !(Link is > 0 and < 1 && Leak is > 0 and < 1 && Leak < Link)
            ? new Refusal("chances", "The chance that a blockage makes a drain slow and the chance that it is slow for nothing are above 0 and below 1, and the first is the larger. Otherwise a slow pour would speak against a blockage.")
        : Ratios.Any(ratio => !(ratio is >= 0.01 and <= 100))
            ? new Refusal("ratios", "Each sign (slow aloft, freezing, backs up, did not hold, fails low or in the cruise, reads full, emptied) has a likelihood ratio from 0.01 to 100; 1 says nothing.")
        : !(PourMinutes is > 0 and <= 240 && DeferMinutes is > 0 and <= 600 && AccessMinutes is >= 0 and <= 240)
            ? new Refusal("minutes", "Minutes: a pour above 0 up to 240, a deferral above 0 up to 600, a panel 0 to 240.")
        : !(DaysToUsual is >= 1 and <= 1000 && TradeWeight is > 0 and <= 1000 && WholeTankShare is > 0 and < 1 && GeneratorBelowFeet is >= 0 and <= 60_000)
            ? new Refusal("weights", "Days 1 to 1,000; the trade's weight above 0 up to 1,000; the whole tank's share between 0 and 1; height 0 to 60,000 ft.")
        : null;

    private double[] Ratios => [AloftOnlyAtMastOrValve, AloftOnlyElsewhere, FreezingAtMast, BackingUpBelow, BackingUpAbove, DidNotHoldThere, DidNotHoldBelow, LowOnlyAtGenerator, LowOnlyElsewhere, CruiseAtGenerator, ReadsFull, ReadsFullElsewhere, EmptiedTrulyFull, EmptiedServiceValve];
}
