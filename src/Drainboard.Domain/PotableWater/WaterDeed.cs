using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.PotableWater;

/// <summary>One thing done for a tail's drinking water. It never changes but for being taken out as entered in error.</summary>
public sealed class WaterDeed
{
    public const int LongestWords = 400;

    private WaterDeed()
    {
    }

    public WaterDeedId Id { get; private set; }

    public TailId Tail { get; private set; }

    public WaterDeedKind Kind { get; private set; }

    public Instant At { get; private set; }

    /// <summary>The key of the item that was serviced; empty else.</summary>
    public string Item { get; private set; } = "";

    /// <summary>The deficiency that was put right.</summary>
    public WaterDeedId? Corrects { get; private set; }

    /// <summary>The work reference, or what was found.</summary>
    public string Words { get; private set; } = "";

    public PersonId By { get; private set; }

    public string ByName { get; private set; } = "";

    public Instant RecordedAt { get; private set; }

    /// <summary>Entered in error: it stays on record and counts as not done.</summary>
    public Instant? VoidedAt { get; private set; }

    public string VoidedWhy { get; private set; } = "";

    /// <summary>Records it. On <see cref="Decision.Done"/> <paramref name="made"/> is to be stored.</summary>
    /// <param name="item">For <see cref="WaterDeedKind.ItemServiced"/>: which of the programme's items.</param>
    /// <param name="corrects">For <see cref="WaterDeedKind.DeficiencyCorrected"/>: the deficiency, which is open.</param>
    public static Decision Record(WaterDeedId id, Tail tail, WaterDeedKind kind, Instant at, WaterItem? item, WaterDeed? corrects, string words, Actor by, Instant now, out WaterDeed? made)
    {
        made = null;
        var when = Instant.Min(at, now);
        var no = tail.WhyNotAt(when)
            ?? (words.Trim().Length > LongestWords || (words.Trim().Length == 0 && kind is WaterDeedKind.DisinfectedAndFlushed or WaterDeedKind.DeficiencyFound or WaterDeedKind.DeficiencyCorrected)
                ? new Refusal("water-words", kind == WaterDeedKind.DeficiencyFound ? $"Say what is deficient, in up to {LongestWords} characters." : $"Name the work order or log page that it stands in, in up to {LongestWords} characters.") : null)
            ?? (kind == WaterDeedKind.ItemServiced && item is null ? new Refusal("no-such-item", "Say which of the programme's items was serviced.") : null)
            ?? (kind == WaterDeedKind.DeficiencyCorrected && corrects is null ? new Refusal("no-such-deficiency", "Say which open deficiency was put right.") : null)
            ?? (corrects is not null && when < corrects.At ? new Refusal("corrected-before", "It was put right before it was found. Check the time.") : null);
        if (no is not null)
        {
            return no;
        }

        made = new WaterDeed { Id = id, Tail = tail.Id, Kind = kind, At = when, Item = item?.Key ?? "", Corrects = corrects?.Id, Words = words.Trim(), By = by.Person, ByName = by.Name, RecordedAt = now };
        return new Fact(ChainKey.For(tail.Id), "water.done", tail.Id.Value, $"Drinking water: {kind.Words().ToLowerInvariant()}{(item is null ? "" : $", {item.Name}")}{(made.Words.Length > 0 ? $": {made.Words}" : "")}.")
            .With("deed", id.Value).With("what", kind).With("at", when).With("deviceTime", at == when ? null : (Instant?)at).With("item", item?.Key).With("corrects", corrects?.Id.Value.ToString());
    }

    /// <summary>Takes it out as entered in error; nothing is deleted.</summary>
    public Decision Void(string why, Instant now)
    {
        if (VoidedAt is not null)
        {
            return new Decision.AlreadySo("It is taken out already.");
        }

        if (why.Trim().Length is 0 or > SampleSet.LongestReason)
        {
            return new Refusal("no-reason", $"Say why it does not count, in up to {SampleSet.LongestReason} characters.");
        }

        (VoidedAt, VoidedWhy) = (now, why.Trim());
        return new Fact(ChainKey.For(Tail), "water.deed-voided", Tail.Value, $"Drinking water: {Kind.Words().ToLowerInvariant()} taken out: {VoidedWhy}").With("deed", Id.Value);
    }
}
