using Drainboard.Domain.TurnFit;
using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>The stand and times of a turn. An estimated departure is never before the estimated arrival; a tail that went off blocks was on blocks before.</summary>
public sealed record TurnTimes(string Stand, Instant EstimatedArrival, Instant EstimatedDeparture, Instant? OnBlocks, Instant? OffBlocks)
{
    public const int LongestStand = 12;

    public const int MostWindows = 20;

    /// <summary>What is known of the stay's own windows; null leaves those known before.</summary>
    public IReadOnlyList<AccessBlock>? Windows { get; init; }

    public Refusal? WhyNot() =>
        Stand.Length > LongestStand
            ? new Refusal("stand", $"A stand has up to {LongestStand} characters.")
        : EstimatedDeparture < EstimatedArrival
            ? new Refusal("departs-before-arrival", "The estimated departure lies before the estimated arrival.")
        : OffBlocks is not null && OnBlocks is null
            ? new Refusal("off-without-on", "It went off blocks, so it was on blocks: give that time too.")
        : OffBlocks < OnBlocks
            ? new Refusal("off-before-on", "Off blocks lies before on blocks.")
        : Windows?.FirstOrDefault(window => window.To <= window.From) is { } backward
            ? new Refusal("window-backward", $"The window for {backward.Activity.Words()} ends before it starts. Give it an end after its start.")
        : Windows?.Count > MostWindows
            ? new Refusal("windows", $"A turn has up to {MostWindows} windows.")
        : null;
}
