using NodaTime;

namespace Drainboard.Domain.Rectification;

/// <summary>The result of an ops check or a leak check: passed or not, in words, by whom and when.</summary>
/// <param name="Points">For a leak check, where it was looked; empty where nobody said.</param>
public sealed record Check(bool Passed, string Words, string By, Instant At, IReadOnlyList<CheckPoint>? Points = null)
{
    /// <summary>A check is not passed while one of its points is wet.</summary>
    public Refusal? WhyNot() =>
        Passed && Points?.FirstOrDefault(point => !point.Dry) is { } wet
            ? new Refusal("wet-point", $"\"{wet.Where}\" is not dry, so the leak check has not passed.")
            : null;
}
