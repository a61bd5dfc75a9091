namespace Drainboard.Domain.Fleet;

/// <summary>
/// A station's capabilities read from its plain words, and what a kind of fixture needs. The split is common practice, no source; other
/// words of a station are kept and mean nothing here.
/// </summary>
public static class Abilities
{
    public static Ability Of(IEnumerable<string> capabilities) =>
        capabilities.Select(words => Parse(words.Trim())).Aggregate(Ability.None, (all, one) => all | one);

    public static Ability Needed(FixtureKind kind) => kind switch
    {
        FixtureKind.GalleySink or FixtureKind.LavatoryBasin or FixtureKind.CoffeeMaker or FixtureKind.Strainer or FixtureKind.CheckValve or FixtureKind.DrainLine => Ability.Drains,
        FixtureKind.Toilet or FixtureKind.WasteTank => Ability.Toilets,
        FixtureKind.DrainMast => Ability.DrainMasts,
        FixtureKind.PotableTank or FixtureKind.WaterHeater or FixtureKind.Filter or FixtureKind.ServicePanel or FixtureKind.UltravioletSteriliser => Ability.Potable,
        FixtureKind.VacuumGenerator => Ability.VacuumGenerator,
    };

    private static Ability Parse(string words) => words.ToLowerInvariant() switch
    {
        "drains" => Ability.Drains,
        "toilets" => Ability.Toilets,
        "drain masts" => Ability.DrainMasts,
        "potable" => Ability.Potable,
        "vacuum generator" => Ability.VacuumGenerator,
        "main base" => Ability.MainBase,
        _ => Ability.None,
    };
}
