using Drainboard.Domain.Cards;
using NodaTime;

namespace Drainboard.Domain.Rectification;

/// <summary>The work card that work was done to.</summary>
/// <param name="OutOfLimits">Measurements and steps that were not as they should be, in words: with one of these the work is signed as not rectified only.</param>
public sealed record CardWork(JobId Job, string Code, int Version, string Title, Instant StartedAt, IReadOnlyList<string> OutOfLimits);
