using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>What the flights of one tail must hold together: an aircraft is on one flight at a time.</summary>
public static class SectorRules
{
    /// <summary>Neighbours that overlap, in order of off block. One may leave at the instant at which the last arrived.</summary>
    public static IEnumerable<(TSector First, TSector Second)> Overlaps<TSector>(IEnumerable<TSector> sectors, Func<TSector, Instant> off, Func<TSector, Instant> on)
    {
        var ordered = sectors.OrderBy(off).ToArray();
        for (var index = 1; index < ordered.Length; index++)
        {
            if (off(ordered[index]) < on(ordered[index - 1]))
            {
                yield return (ordered[index - 1], ordered[index]);
            }
        }
    }
}
