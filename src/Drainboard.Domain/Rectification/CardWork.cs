using Drainboard.Domain.Cards;
using NodaTime;

namespace Drainboard.Domain.Rectification;

/// <summary>The work card that work was done to.</summary>
public sealed record CardWork(JobId Job, string Code, int Version, string Title, Instant StartedAt);
