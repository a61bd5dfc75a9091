using NodaTime;

namespace Drainboard.Domain.TurnFit;

/// <summary>A stretch of a turn in which an activity keeps people from the places it blocks: from included, to excluded.</summary>
public sealed record AccessBlock(GroundActivity Activity, Instant From, Instant To);
