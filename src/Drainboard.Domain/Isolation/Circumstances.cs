using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Isolation;

/// <summary>
/// What else is known about a slow drain. Each part multiplies the odds of segments: its likelihood given a state of the drain is a product
/// over blocked segments, so that moving the priors by it is exact.
/// </summary>
/// <param name="AloftOnly">Slow in flight and fine on the ground.</param>
/// <param name="OutsideCelsius">Outside temperature on the ground.</param>
/// <param name="BacksUpInto">Another fixture in which the water comes up.</param>
/// <param name="DidNotHoldAt">Where it was opened last, when that fix did not hold.</param>
public sealed record Circumstances(bool AloftOnly = false, int? OutsideCelsius = null, Position? BacksUpInto = null, Position? DidNotHoldAt = null)
{
    public static Circumstances None { get; } = new();

    /// <summary>The factor on a segment's odds.</summary>
    /// <param name="path">What the fixture drains through.</param>
    /// <param name="otherPath">The same for the one that it backs up into; empty otherwise.</param>
    public double Ratio(Fixture segment, IReadOnlyList<Fixture> path, IReadOnlyList<Fixture> otherPath, AdviceTerms terms)
    {
        var on = PlaceOf(path, segment.Position);
        var ratio = AloftOnly && on >= 0 ? segment.Kind is FixtureKind.DrainMast or FixtureKind.CheckValve ? terms.AloftOnlyAtMastOrValve : terms.AloftOnlyElsewhere : 1;
        ratio *= OutsideCelsius is <= 0 && segment.Kind == FixtureKind.DrainMast ? terms.FreezingAtMast : 1;
        ratio *= BacksUpInto is not null && on >= 0 ? PlaceOf(otherPath, segment.Position) >= 0 ? terms.BackingUpBelow : terms.BackingUpAbove : 1;
        return ratio * (DidNotHoldAt is { } opened && PlaceOf(path, opened) is var last and >= 0 && on >= last ? on == last ? terms.DidNotHoldThere : terms.DidNotHoldBelow : 1);
    }

    /// <summary>What is said of them, with the ratios used.</summary>
    public IEnumerable<Explained> Explain(AdviceTerms terms)
    {
        if (AloftOnly)
        {
            yield return new($"Slow in flight and fine on the ground: odds of a mast or valve times {terms.AloftOnlyAtMastOrValve:0.##}, of the rest of the way times {terms.AloftOnlyElsewhere:0.##}. Pours on the ground that ran free are left aside: what was ice may have melted.", Source);
        }

        if (OutsideCelsius is { } outside)
        {
            yield return new(outside <= 0 ? $"{outside} °C outside: odds of ice in a mast times {terms.FreezingAtMast:0.##}." : $"{outside} °C outside: no ice at the mast from here; that changes nothing.", Source);
        }

        if (BacksUpInto is { } other)
        {
            yield return new($"It backs up into {other}: odds of what lies below their meeting times {terms.BackingUpBelow:0.##}, of what lies above times {terms.BackingUpAbove:0.##}.", Source);
        }

        if (DidNotHoldAt is { } opened)
        {
            yield return new($"The last fix, at {opened}, did not hold: its odds times {terms.DidNotHoldThere:0.##}, those of what lies below it times {terms.DidNotHoldBelow:0.##}.", Source);
        }
    }

    private const string Source = "common practice, an editable default";

    private static int PlaceOf(IReadOnlyList<Fixture> path, Position at) => path.Select((node, index) => (node, index)).FirstOrDefault(one => one.node.Position == at, (null!, -1)).index;
}
