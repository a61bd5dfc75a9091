using NodaTime;

namespace Drainboard.Domain.Cards;

/// <summary>What is entered at a step.</summary>
/// <param name="Value">For a measurement, in the step's unit.</param>
/// <param name="Again">It was recorded before and is done once more: both stay on record, the later one counts.</param>
/// <param name="PourWords">For a timed pour: how the newest pour since the job began came out.</param>
/// <param name="Photo">For a photo: the SHA-256 of its bytes.</param>
/// <param name="DoneAt">When, by the device; null: now.</param>
public sealed record StepTerms(StepResult Result, decimal? Value = null, string Words = "", bool Again = false, string? PourWords = null, string? Photo = null, Instant? DoneAt = null);
