using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>What the flights of one tail must hold together: an aircraft is on one flight at a time.</summary>
public static class SectorRules
{
    /// <summary>The first two that overlap, in order of off block; null when none do. One may leave at the instant at which the last arrived.</summary>
    public static (TSector First, TSector Second)? FirstOverlap<TSector>(IEnumerable<TSector> sectors, Func<TSector, Instant> off, Func<TSector, Instant> on)
    {
        var ordered = sectors.OrderBy(off).ToArray();
        for (var index = 1; index < ordered.Length; index++)
        {
            if (off(ordered[index]) < on(ordered[index - 1]))
            {
                return (ordered[index - 1], ordered[index]);
            }
        }

        return null;
    }
}
