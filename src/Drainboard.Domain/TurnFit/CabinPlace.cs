using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.TurnFit;

/// <summary>Where on the aircraft hands are needed: what blocks one place leaves another free.</summary>
public enum CabinPlace
{
    Galley,
    Lavatory,

    /// <summary>Masts, panels, tanks and what lies below the floor.</summary>
    Outside,
}

public static class CabinPlaces
{
    /// <summary>Where a fixture of this kind is worked (common practice, no source).</summary>
    public static CabinPlace Of(FixtureKind kind) => kind switch
    {
        FixtureKind.GalleySink or FixtureKind.CoffeeMaker or FixtureKind.WaterHeater or FixtureKind.Strainer or FixtureKind.Filter => CabinPlace.Galley,
        FixtureKind.LavatoryBasin or FixtureKind.Toilet => CabinPlace.Lavatory,
        FixtureKind.CheckValve or FixtureKind.DrainLine or FixtureKind.DrainMast or FixtureKind.PotableTank or FixtureKind.WasteTank or FixtureKind.VacuumGenerator or FixtureKind.ServicePanel or FixtureKind.UltravioletSteriliser => CabinPlace.Outside,
    };
}
