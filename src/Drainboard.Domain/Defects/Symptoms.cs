using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Defects;

/// <summary>The words of a symptom, its family, and which make sense at which kind of fixture. Common practice, no source.</summary>
public static class Symptoms
{
    public static string Words(this Symptom symptom) => symptom switch
    {
        Symptom.DrainsSlowly => "Drains slowly",
        Symptom.DoesNotDrain => "Does not drain",
        Symptom.BacksUp => "Backs up",
        Symptom.Overflows => "Overflows",
        Symptom.WillNotStop => "Will not stop",
        Symptom.NoWater => "No water",
        Symptom.Discoloured => "Discoloured water",
        Symptom.Smell => "Smell",
        Symptom.DoesNotFlush => "Does not flush",
        Symptom.Insects => "Insects",
        Symptom.Leaks => "Leaks",
        Symptom.Other => "Something else",
    };

    public static SymptomFamily Family(this Symptom symptom) => symptom switch
    {
        Symptom.DrainsSlowly or Symptom.DoesNotDrain or Symptom.BacksUp or Symptom.Overflows => SymptomFamily.Draining,
        Symptom.WillNotStop or Symptom.NoWater => SymptomFamily.Supply,
        Symptom.Discoloured or Symptom.Smell => SymptomFamily.Quality,
        Symptom.DoesNotFlush => SymptomFamily.Flushing,
        Symptom.Leaks => SymptomFamily.Leaking,
        Symptom.Insects => SymptomFamily.Insects,
        Symptom.Other => SymptomFamily.Other,
    };

    public static IReadOnlyList<Symptom> At(FixtureKind kind) => kind switch
    {
        FixtureKind.GalleySink or FixtureKind.LavatoryBasin =>
            [Symptom.DrainsSlowly, Symptom.DoesNotDrain, Symptom.BacksUp, Symptom.Overflows, Symptom.WillNotStop, Symptom.NoWater, Symptom.Discoloured, Symptom.Smell, Symptom.Insects, Symptom.Leaks, Symptom.Other],
        FixtureKind.Toilet =>
            [Symptom.DoesNotFlush, Symptom.BacksUp, Symptom.Overflows, Symptom.WillNotStop, Symptom.Smell, Symptom.Leaks, Symptom.Other],
        FixtureKind.CoffeeMaker or FixtureKind.WaterHeater or FixtureKind.Filter or FixtureKind.UltravioletSteriliser =>
            [Symptom.NoWater, Symptom.WillNotStop, Symptom.Discoloured, Symptom.Smell, Symptom.Leaks, Symptom.Other],
        FixtureKind.Strainer or FixtureKind.DrainLine or FixtureKind.DrainMast or FixtureKind.CheckValve or FixtureKind.PotableTank
            or FixtureKind.WasteTank or FixtureKind.VacuumGenerator or FixtureKind.ServicePanel =>
            [Symptom.DrainsSlowly, Symptom.DoesNotDrain, Symptom.Leaks, Symptom.Smell, Symptom.Other],
    };
}
