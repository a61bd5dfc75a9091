namespace Drainboard.Domain.Lavatories;

/// <summary>
/// What waiting is worked out from. No measured set of uses per passenger is published openly, so every number is weak: 2.4 uses of each
/// passenger on one long flight of about eleven hours (an enthusiast's page), minutes inside and the peak are our choice.
/// </summary>
public sealed record LavatoryTerms
{
    public static LavatoryTerms Usual { get; } = new();

    /// <summary>Uses of one passenger in an hour, between meals.</summary>
    public double UsesPerPassengerHour { get; init; } = 0.22;

    /// <summary>After a meal and before descent so many times as often.</summary>
    public double PeakFactor { get; init; } = 2.5;

    /// <summary>The first peak begins so many hours after off blocks, when the first meal is cleared (our choice).</summary>
    public double FirstPeakAfterHours { get; init; } = 1.5;

    /// <summary>Sectors of so many hours and more have a second meal, and a second peak after it (our choice).</summary>
    public double TwoPeaksFromHours { get; init; } = 6;

    /// <summary>The second peak is over so many hours before on blocks, when seats are taken for the descent (our choice).</summary>
    public double LastPeakBeforeHours { get; init; } = 0.75;

    /// <summary>Hours of one peak; no more than the sector has.</summary>
    public double PeakHours { get; init; } = 1;

    /// <summary>Occupied, on average.</summary>
    public double MinutesPerUse { get; init; } = 2.5;

    /// <summary>Why these cannot be gone by, or null.</summary>
    public Refusal? WhyNot() =>
        !(UsesPerPassengerHour is > 0 and <= 10) ? new Refusal("uses", "Uses of a passenger in an hour are above 0, up to 10.")
        : !(PeakFactor is >= 1 and <= 20) ? new Refusal("peak", "At the peak it is 1 to 20 times as often.")
        : !(PeakHours is >= 0 and <= 24) ? new Refusal("peak-hours", "A peak has 0 to 24 hours.")
        : !(FirstPeakAfterHours is >= 0 and <= 24) || !(TwoPeaksFromHours is > 0 and <= 24) || !(LastPeakBeforeHours is >= 0 and <= 24) ? new Refusal("peak-times", "When the peaks are is said in hours: 0 to 24, and a second peak only from above 0.")
        : !(MinutesPerUse is > 0 and <= 60) ? new Refusal("minutes", "Minutes inside are above 0, up to 60.")
        : null;
}
