using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using NodaTime;

namespace Drainboard.Web.Features.Demo;

/// <summary>
/// What goes wrong in the invented fleet, and how often. The splits are defaults of common practice, no source. Hidden in it, to be
/// found: three rogue fixtures, a layout whose aft branch blocks, and a cleaning campaign that worked.
/// </summary>
internal static class DemoFaults
{
    /// <summary>Fixtures that come back again and again, whatever is done at the strainer.</summary>
    public static readonly IReadOnlyList<(string Tail, string Position)> Rogues = [("QQ-MRA", "K-G4-2"), ("QQ-MRH", "K-G1-1"), ("QQ-MRQ", "K-G3-2")];

    /// <summary>From this many days back, single-aisle strainers were cleaned at every second night stop.</summary>
    public const int CampaignDaysBack = 150;

    private static readonly (Found, double)[] GalleyFound = [(Found.Grounds, 55), (Found.Food, 15), (Found.Fat, 8), (Found.Packaging, 8), (Found.Scale, 5), (Found.ForeignObject, 3), (Found.Nothing, 6)];
    private static readonly (Found, double)[] BasinFound = [(Found.HairAndSoap, 45), (Found.Paper, 25), (Found.ForeignObject, 15), (Found.Scale, 8), (Found.Food, 7)];
    private static readonly (Found, double)[] ToiletFound = [(Found.ForeignObject, 30), (Found.FailedPart, 40), (Found.Nothing, 15), (Found.Paper, 8), (Found.Scale, 7)];

    /// <summary>How likely this fixture is the next to be written up, against a toilet's 1.</summary>
    public static double Weight(Fixture fixture, string tail, string layout, Instant at, Instant now)
    {
        var weight = fixture.Kind switch
        {
            FixtureKind.GalleySink => layout == "W2" && fixture.Area == "Aft" ? 4.5 : 2.6,
            FixtureKind.LavatoryBasin => 1.1,
            FixtureKind.Toilet => 1.0,
            FixtureKind.CoffeeMaker => 0.35,
            FixtureKind.WaterHeater => 0.2,
            _ => 0,
        };
        if (fixture.Kind == FixtureKind.GalleySink && layout == "N1" && at > now - Duration.FromDays(CampaignDaysBack))
        {
            weight *= 0.45;
        }

        return Rogues.Contains((tail, fixture.Position.Value)) ? weight * 6 : weight;
    }

    public static Symptom SymptomAt(FixtureKind kind, Dice dice) => kind switch
    {
        FixtureKind.GalleySink => dice.Weighted([(Symptom.DrainsSlowly, 70), (Symptom.DoesNotDrain, 16), (Symptom.BacksUp, 4), (Symptom.Smell, 4), (Symptom.Leaks, 4), (Symptom.NoWater, 2)]),
        FixtureKind.LavatoryBasin => dice.Weighted([(Symptom.DrainsSlowly, 55), (Symptom.DoesNotDrain, 20), (Symptom.NoWater, 10), (Symptom.WillNotStop, 7), (Symptom.Leaks, 8)]),
        FixtureKind.Toilet => dice.Weighted([(Symptom.DoesNotFlush, 82), (Symptom.Overflows, 5), (Symptom.Smell, 8), (Symptom.WillNotStop, 5)]),
        _ => dice.Weighted([(Symptom.NoWater, 55), (Symptom.Leaks, 25), (Symptom.Discoloured, 20)]),
    };

    /// <summary>What is found and where: at the strainer below, in the branch, at the mast or valve, or at the fixture itself.</summary>
    public static (Found Found, Position At, string[] Steps, string Manual, int Minutes) Fix(Fixture fixture, CabinLayout layout, string tail, Symptom symptom, Dice dice)
    {
        var path = layout.Plumbing.DrainPath(fixture.Position);
        var strainer = path.FirstOrDefault(node => node.Kind == FixtureKind.Strainer);
        if (symptom.Family() == SymptomFamily.Draining && strainer is not null)
        {
            return Drain(fixture, layout, tail, path, strainer, dice);
        }

        if (fixture.Kind == FixtureKind.Toilet)
        {
            var found = dice.Weighted(ToiletFound);
            return (found, fixture.Position, found switch
            {
                Found.ForeignObject => ["Object removed from the bowl outlet; toilet flushed five times."],
                Found.FailedPart => ["Flush controller replaced; toilet flushed five times."],
                Found.Nothing => ["Toilet reset and flushed five times; no fault could be reproduced."],
                _ => ["Outlet cleared; toilet flushed five times."],
            }, "INVENTED-AMM 38-31-00", dice.Minutes(8, 25, 70));
        }

        return (Found.FailedPart, fixture.Position, ["Part replaced, connection made up and wiped dry."], "INVENTED-AMM 38-11-00", dice.Minutes(12, 25, 75));
    }

    private static (Found, Position, string[], string, int) Drain(Fixture fixture, CabinLayout layout, string tail, IReadOnlyList<Fixture> path, Fixture strainer, Dice dice)
    {
        var branchBlocks = layout.Code == "W2" && fixture.Area == "Aft" && fixture.Kind == FixtureKind.GalleySink;
        var rogue = Rogues.Contains((tail, fixture.Position.Value));
        var branch = path.Skip(1).FirstOrDefault(node => node.Kind == FixtureKind.DrainLine) ?? strainer;
        var mast = path.FirstOrDefault(node => node.Kind == FixtureKind.DrainMast) ?? branch;
        var where = dice.Weighted<(Fixture Node, string Kind)>([((strainer, "strainer"), rogue ? 88 : branchBlocks ? 45 : 77), ((branch, "branch"), branchBlocks ? 45 : 12), ((mast, "mast"), 6), ((fixture, "nothing"), 5)]);
        var found = fixture.Kind == FixtureKind.GalleySink ? dice.Weighted(GalleyFound) : dice.Weighted(BasinFound);
        return where.Kind switch
        {
            "strainer" => (found, where.Node.Position, ["Strainer opened, cleaned and refitted; hot water run through."], "INVENTED-AMM 38-31-05", fixture.Kind == FixtureKind.GalleySink ? dice.Minutes(4, 7, 15) : dice.Minutes(6, 12, 25)),
            "branch" => (found, where.Node.Position, ["Drain branch cleared and flushed with hot water."], "INVENTED-AMM 38-31-09", dice.Minutes(20, 35, 80)),
            "mast" => (Found.Ice, where.Node.Position, ["Drain mast cleared of ice; mast heater checked."], "INVENTED-AMM 30-71-00", dice.Minutes(15, 30, 60)),
            _ => (Found.Nothing, fixture.Position, ["Water poured and timed; drains as it should."], "INVENTED-AMM 38-31-01", dice.Minutes(3, 5, 10)),
        };
    }
}
