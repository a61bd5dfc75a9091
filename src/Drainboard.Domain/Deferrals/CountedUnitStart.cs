namespace Drainboard.Domain.Deferrals;

/// <summary>When flight hours and flight cycles begin to count.</summary>
public enum CountedUnitStart
{
    /// <summary>At the moment of deferral: a flight under way counts with the part that is left of it, and as a cycle (the strict reading).</summary>
    Deferral,

    /// <summary>With the next flight: one under way does not count (TC MMEL guide, ATA 38).</summary>
    NextFlight,
}
