namespace Drainboard.Domain.Fleet;

/// <summary>What a kind of fixture may be connected to, and what it is called. Facts of the trade; common practice, no source.</summary>
public static class FixtureKinds
{
    public static string Words(this FixtureKind kind) => kind switch
    {
        FixtureKind.GalleySink => "galley sink",
        FixtureKind.LavatoryBasin => "lavatory basin",
        FixtureKind.Toilet => "toilet",
        FixtureKind.CoffeeMaker => "coffee maker",
        FixtureKind.WaterHeater => "water heater",
        FixtureKind.Strainer => "strainer",
        FixtureKind.Filter => "filter",
        FixtureKind.CheckValve => "check valve",
        FixtureKind.DrainLine => "drain line",
        FixtureKind.DrainMast => "drain mast",
        FixtureKind.PotableTank => "potable tank",
        FixtureKind.WasteTank => "waste tank",
        FixtureKind.VacuumGenerator => "vacuum generator",
        FixtureKind.ServicePanel => "service panel",
        FixtureKind.UltravioletSteriliser => "ultraviolet steriliser",
    };

    /// <summary>Stands between the two systems: takes potable water and drains it (a toilet takes rinse water, a basin drains).</summary>
    public static bool StandsBetween(this FixtureKind kind) =>
        kind is FixtureKind.GalleySink or FixtureKind.LavatoryBasin or FixtureKind.Toilet or FixtureKind.CoffeeMaker;

    /// <summary>May only ever hold potable water.</summary>
    public static bool IsPotableOnly(this FixtureKind kind) =>
        kind is FixtureKind.PotableTank or FixtureKind.WaterHeater or FixtureKind.Filter or FixtureKind.UltravioletSteriliser;

    /// <summary>May only ever hold grey water or waste.</summary>
    public static bool IsDrainOnly(this FixtureKind kind) =>
        kind is FixtureKind.Strainer or FixtureKind.DrainLine or FixtureKind.DrainMast or FixtureKind.WasteTank or FixtureKind.VacuumGenerator;

    /// <summary>What people on board use and write up.</summary>
    public static bool IsUsedOnBoard(this FixtureKind kind) => kind.StandsBetween() || kind == FixtureKind.WaterHeater;
}
