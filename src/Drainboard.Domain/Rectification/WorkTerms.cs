using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Rectification;

/// <summary>What the technician enters about the work. Minutes are hands-on time; null when nobody kept it.</summary>
public sealed record WorkTerms(Found Found, Position FoundAt, string ManualReference, IReadOnlyList<string> Steps, Instant CompletedAt, int? Minutes, Check? OpsCheck, Check? LeakCheck, CardWork? Card = null)
{
    /// <summary>Measurements and steps that were not as they should be, in words: with one of these the work is signed as not rectified only.</summary>
    public IReadOnlyList<string> OutOfLimits { get; init; } = [];
}
