using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Rectification;

/// <summary>What the technician enters about the work. Minutes are hands-on time; null when nobody kept it.</summary>
public sealed record WorkTerms(Found Found, Position FoundAt, string ManualReference, IReadOnlyList<string> Steps, Instant CompletedAt, int? Minutes, Check? OpsCheck, Check? LeakCheck, CardWork? Card = null);
