using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.PotableWater;

/// <summary>Which taps a set is taken from: one lavatory and one galley, with one tap two samples from it (40 CFR 141.803(b)(4)); repeats from the positive tap, another lavatory and another galley ((c)(3)(iii)).</summary>
public static class SampleTaps
{
    public const int Repeats = 3;

    public static bool IsTap(FixtureKind kind) => kind is FixtureKind.LavatoryBasin or FixtureKind.GalleySink;

    /// <summary>The taps to take: those sampled longest ago first, so that every tap has its turn (our choice); a repeat begins with the positive one.</summary>
    /// <param name="before">How often, or how lately, each tap was sampled: the smallest is taken first. Missing: never.</param>
    /// <param name="positive">The taps that were positive, for repeats.</param>
    public static IReadOnlyList<Position> Choose(CabinLayout layout, SamplePurpose purpose, IReadOnlyDictionary<Position, long> before, IReadOnlyCollection<Position> positive)
    {
        var taps = layout.Fixtures.Where(fixture => IsTap(fixture.Kind)).OrderBy(fixture => before.GetValueOrDefault(fixture.Position, long.MinValue)).ThenBy(fixture => fixture.Position.Value, StringComparer.Ordinal).ToArray();
        if (taps.Length == 0)
        {
            return [];
        }

        Position? Next(FixtureKind kind, IReadOnlyCollection<Position> not) => taps.FirstOrDefault(tap => tap.Kind == kind && !not.Contains(tap.Position))?.Position ?? taps.FirstOrDefault(tap => !not.Contains(tap.Position))?.Position;
        if (purpose != SamplePurpose.Repeat)
        {
            var one = Next(FixtureKind.LavatoryBasin, [])!.Value;
            return [one, Next(FixtureKind.GalleySink, [one]) ?? one];
        }

        var first = positive.FirstOrDefault(tap => taps.Any(own => own.Position == tap), taps[0].Position);
        var lavatory = Next(FixtureKind.LavatoryBasin, [first]) ?? first;
        return [first, lavatory, Next(FixtureKind.GalleySink, [first, lavatory]) ?? first];
    }

    /// <summary>Why a set of these taps does not count, or null.</summary>
    public static Refusal? WhyNot(CabinLayout layout, SamplePurpose purpose, IReadOnlyList<Position> taps, IReadOnlyCollection<Position> positive)
    {
        var wrong = from tap in taps
                    let there = layout.Find(tap)
                    where there is null || !IsTap(there.Kind)
                    select new Refusal("no-such-tap", there is null ? $"This aircraft has no tap \"{tap}\"." : $"{there.Name} is not a drinking water tap.");
        if (wrong.FirstOrDefault() is { } no)
        {
            return no;
        }

        var own = layout.Fixtures.Where(fixture => IsTap(fixture.Kind)).ToArray();
        if (purpose == SamplePurpose.Repeat)
        {
            return taps.Count < Repeats ? new Refusal("too-few-samples", "Three repeat samples are taken: the positive tap, another lavatory and another galley (141.803(c)(3)(iii)).")
                : positive.Count > 0 && !taps.Any(positive.Contains) ? new Refusal("positive-tap", "One of the repeat samples is from the tap that was positive (141.803(c)(3)(iii)).")
                : Misses(taps.Where(tap => !positive.Contains(tap)), own.Where(tap => !positive.Contains(tap.Position)));
        }

        return taps.Count < 2 ? new Refusal("too-few-samples", "A set is two samples: one lavatory and one galley tap, with one tap two from it (141.803(b)(4)).") : Misses(taps, own);

        Refusal? Misses(IEnumerable<Position> taken, IEnumerable<Fixture> there)
        {
            var kinds = taken.Select(tap => layout.Find(tap)!.Kind).ToHashSet();
            return there.Select(tap => tap.Kind).Distinct().Where(kind => !kinds.Contains(kind)).Select(kind => new Refusal("tap-missing", $"A {(kind == FixtureKind.GalleySink ? "galley" : "lavatory")} tap is missing from the set: one lavatory and one galley are sampled (141.803(b)(4)).")).FirstOrDefault();
        }
    }
}
