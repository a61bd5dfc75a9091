namespace Drainboard.Domain.TurnFit;

/// <summary>How long a kind of job takes, how likely it is that one, and on how many jobs of one's own that rests.</summary>
/// <param name="OwnLayout">Timed jobs of this kind on this layout.</param>
/// <param name="OwnFleet">On the whole fleet.</param>
public sealed record JobTime(JobKind Kind, double Chance, TaskTime Time, int OwnLayout, int OwnFleet);
