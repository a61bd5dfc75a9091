using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Rectification;
using static Drainboard.Domain.TurnFit.JobKind;

namespace Drainboard.Domain.TurnFit;

/// <summary>
/// What the trade says of each kind of job before this fleet has said anything: minutes in three points (open, put right and close; checks and
/// paperwork come on top) and how often it is that. Common practice, no source, from memory; this fleet's own jobs replace them.
/// </summary>
public static class JobKinds
{
    public static string Words(this JobKind kind) => kind switch
    {
        GalleyStrainer => "galley strainer",
        BasinStrainer => "basin strainer",
        Branch => "drain branch",
        Valve => "check valve",
        DrainMast => "drain mast",
        Fitting => "fitting",
        ToiletReset => "toilet reset",
        ToiletObject => "object in a toilet",
        ToiletPart => "toilet part",
        WasteLine => "waste line",
        LevelSensor => "level sensor",
        Generator => "vacuum generator",
        Brewer => "coffee maker",
        Heater => "water heater",
        NothingFound => "nothing found",
        Other => "other work",
    };

    public static TaskTime.ThreePoint Usual(this JobKind kind) => kind switch
    {
        GalleyStrainer => new(4, 7, 15),
        BasinStrainer => new(6, 12, 25),
        Branch => new(20, 35, 80),
        Valve => new(15, 30, 60),
        DrainMast => new(15, 30, 60),
        Fitting => new(15, 30, 75),
        ToiletReset => new(3, 6, 12),
        ToiletObject => new(8, 15, 35),
        ToiletPart => new(15, 35, 110),
        WasteLine => new(45, 90, 240),
        LevelSensor => new(25, 45, 90),
        Generator => new(60, 100, 200),
        Brewer => new(8, 12, 25),
        Heater => new(8, 12, 25),
        NothingFound => new(3, 6, 12),
        Other => new(15, 30, 75),
    };

    /// <summary>What a piece of work was, by where it was found.</summary>
    public static JobKind Of(FixtureKind writtenUp, FixtureKind foundAt, Found found) => (foundAt, found) switch
    {
        (FixtureKind.Toilet, Found.Nothing) => ToiletReset,
        (FixtureKind.Toilet, Found.FailedPart) => ToiletPart,
        (FixtureKind.Toilet, _) => ToiletObject,
        (_, Found.Nothing) => NothingFound,
        (FixtureKind.Strainer, _) => writtenUp == FixtureKind.LavatoryBasin ? BasinStrainer : GalleyStrainer,
        (FixtureKind.DrainLine, _) => writtenUp == FixtureKind.Toilet ? WasteLine : Branch,
        (FixtureKind.CheckValve, _) => Valve,
        (FixtureKind.DrainMast, _) => DrainMast,
        (FixtureKind.WasteTank, _) => LevelSensor,
        (FixtureKind.VacuumGenerator, _) => Generator,
        (FixtureKind.CoffeeMaker, _) => Brewer,
        (FixtureKind.WaterHeater, _) => Heater,
        (FixtureKind.GalleySink or FixtureKind.LavatoryBasin, _) => Fitting,
        _ => Other,
    };

    /// <summary>How often trouble of this family at this kind of fixture turns out to be which job; the shares add up to one.</summary>
    public static IReadOnlyList<(JobKind Kind, double Share)> UsualShares(FixtureKind fixture, SymptomFamily family) => (fixture, family) switch
    {
        (FixtureKind.GalleySink, SymptomFamily.Draining) => Drain(GalleyStrainer),
        (FixtureKind.LavatoryBasin, SymptomFamily.Draining) => Drain(BasinStrainer),
        (FixtureKind.Toilet, SymptomFamily.Flushing) => [(ToiletObject, 0.30), (ToiletPart, 0.48), (ToiletReset, 0.15), (WasteLine, 0.07)],
        (FixtureKind.Toilet, _) => [(ToiletPart, 0.55), (ToiletObject, 0.25), (ToiletReset, 0.20)],
        (FixtureKind.GalleySink or FixtureKind.LavatoryBasin, SymptomFamily.Leaking) => [(Fitting, 0.9), (NothingFound, 0.1)],
        (FixtureKind.GalleySink or FixtureKind.LavatoryBasin, _) => [(Fitting, 0.8), (NothingFound, 0.2)],
        (FixtureKind.CoffeeMaker, _) => [(Brewer, 0.9), (NothingFound, 0.1)],
        (FixtureKind.WaterHeater, _) => [(Heater, 0.9), (NothingFound, 0.1)],
        (FixtureKind.Strainer, _) => [(GalleyStrainer, 1)],
        (FixtureKind.CheckValve, _) => [(Valve, 1)],
        (FixtureKind.DrainLine, _) => [(Branch, 1)],
        (FixtureKind.DrainMast, _) => [(DrainMast, 1)],
        (FixtureKind.WasteTank, _) => [(LevelSensor, 1)],
        (FixtureKind.VacuumGenerator, _) => [(Generator, 1)],
        _ => [(Other, 1)],
    };

    // The shares that advice begins from; what is left over is nothing found.
    private static IReadOnlyList<(JobKind Kind, double Share)> Drain(JobKind strainer)
    {
        (JobKind Kind, double Share)[] found = [(strainer, BlockagePriors.Share(FixtureKind.Strainer)), (Branch, BlockagePriors.Share(FixtureKind.DrainLine)), (DrainMast, BlockagePriors.Share(FixtureKind.DrainMast)), (Valve, BlockagePriors.Share(FixtureKind.CheckValve))];
        return [.. found, (NothingFound, 1 - found.Sum(one => one.Share))];
    }

    /// <summary>Hot, and left to cool first: hot water and heated masts.</summary>
    public static bool IsHot(this FixtureKind kind) => kind is FixtureKind.CoffeeMaker or FixtureKind.WaterHeater or FixtureKind.DrainMast;
}
