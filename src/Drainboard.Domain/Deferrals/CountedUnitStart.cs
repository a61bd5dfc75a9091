namespace Drainboard.Domain.Deferrals;

/// <summary>When hours, cycles and legs begin to count.</summary>
public enum CountedUnitStart
{
    AtDeferral,
    NextSector,
}
