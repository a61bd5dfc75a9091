using NodaTime;

namespace Drainboard.Domain.Reliability;

/// <summary>A dated working-out of everybody's standing, which a job replaces whole. What is shown says its number and its time.</summary>
public sealed class StandingSnapshot
{
    private StandingSnapshot()
    {
    }

    public StandingSnapshot(int number, Instant at, Instant from, ExposureUnit unit, int tested, int tailsLeftOut, IReadOnlyList<Standing> standings)
    {
        (Number, At, From, Unit, Tested, Flagged, TailsLeftOut) = (number, at, from, unit, tested, standings.Count(one => one.IsFlagged), tailsLeftOut);
        foreach (var one in standings)
        {
            one.Snapshot = number;
        }
    }

    public int Number { get; private set; }

    /// <summary>When it was made: the end of what it looks at.</summary>
    public Instant At { get; private set; }

    public Instant From { get; private set; }

    public ExposureUnit Unit { get; private set; }

    /// <summary>How many fixtures and places were tested: what the p-values are adjusted for.</summary>
    public int Tested { get; private set; }

    public int Flagged { get; private set; }

    /// <summary>Tails without exposure in the time: nothing can be said of them.</summary>
    public int TailsLeftOut { get; private set; }
}
