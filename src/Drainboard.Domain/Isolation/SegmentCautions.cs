using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Isolation;

/// <summary>What to guard against where a drain is opened. Common practice, no source; the approved manual decides.</summary>
public static class SegmentCautions
{
    public static string Caution(this FixtureKind kind) => kind switch
    {
        FixtureKind.DrainMast => "A mast is heated and burns: power off, tag it, let it cool. Look up before you stand below it.",
        FixtureKind.Strainer => "Hot and soiled water: run nothing hot first, gloves and eye protection, a tray below. Sharps may be in it.",
        FixtureKind.DrainLine => "What stands in the line comes out: tray and gloves, and keep it off electrics. No compressed air unless the manual says so.",
        FixtureKind.CheckValve => "Mark its direction before it is out; what stands above it comes out.",
        _ => "Power off what is heated, isolate what is under pressure.",
    };
}
