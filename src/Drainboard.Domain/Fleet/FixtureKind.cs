namespace Drainboard.Domain.Fleet;

/// <summary>The kinds of water and waste fixture that a cabin layout is made of.</summary>
public enum FixtureKind
{
    GalleySink,
    LavatoryBasin,
    Toilet,
    CoffeeMaker,
    WaterHeater,
    Strainer,
    Filter,
    CheckValve,
    DrainLine,
    DrainMast,
    PotableTank,
    WasteTank,
    VacuumGenerator,
    ServicePanel,
    UltravioletSteriliser,
}
