using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.PotableWater;

/// <summary>A set of drinking water samples, collected together. Results come one by one; one that is told stays told.</summary>
public sealed class SampleSet
{
    public const int LongestReason = 200;

    private SampleSet()
    {
    }

    public SampleSetId Id { get; private set; }

    public TailId Tail { get; private set; }

    public SamplePurpose Purpose { get; private set; }

    /// <summary>The case that asked for it; null for a routine set.</summary>
    public WaterCaseId? Case { get; private set; }

    public Instant CollectedAt { get; private set; }

    public IReadOnlyList<Sample> Samples { get; private set; } = [];

    public PersonId By { get; private set; }

    public string ByName { get; private set; } = "";

    public Instant RecordedAt { get; private set; }

    /// <summary>Not valid, lost or entered in error: it counts as not taken.</summary>
    public Instant? VoidedAt { get; private set; }

    public string VoidedWhy { get; private set; } = "";

    public long Version { get; private set; }

    public bool Counts => VoidedAt is null;

    public bool IsTold => Samples.All(sample => sample.IsTold);

    /// <summary>Whether every sample is total coliform-negative; null: not all are told, and none told is positive.</summary>
    public bool? IsNegative => Samples.Any(sample => sample.Coliform == true) ? false : IsTold ? true : null;

    public IReadOnlyList<Position> Positive => [.. Samples.Where(sample => sample.Coliform == true).Select(sample => sample.Tap)];

    /// <summary>Records that it was collected. On <see cref="Decision.Done"/> <paramref name="made"/> is to be stored.</summary>
    /// <param name="of">The running case that asks for it, for repeats and follow-ups.</param>
    /// <param name="positive">The taps whose result started that case.</param>
    /// <param name="lastDisinfectedAt">The last disinfection and flushing before it was collected; null: none is on record.</param>
    public static Decision Collect(SampleSetId id, Tail tail, CabinLayout layout, SamplePurpose purpose, IReadOnlyList<Position> taps, WaterCase? of, IReadOnlyCollection<Position> positive, Instant collectedAt, Instant? lastDisinfectedAt, Actor by, Instant now, out SampleSet? made)
    {
        made = null;
        var at = Instant.Min(collectedAt, now);
        var no = tail.WhyNotAt(at) ?? SampleTaps.WhyNot(layout, purpose, taps, positive)
            ?? (purpose == SamplePurpose.Routine ? WaterRule.WhyNotRoutineSample(at, lastDisinfectedAt) : of is null ? new Refusal("no-such-case", "Repeat and follow-up samples belong to a running case. Choose it.") : of.WhyNotSample(purpose, at, lastDisinfectedAt));
        if (no is not null)
        {
            return no;
        }

        made = new SampleSet { Id = id, Tail = tail.Id, Purpose = purpose, Case = purpose == SamplePurpose.Routine ? null : of!.Id, CollectedAt = at, Samples = [.. taps.Select(tap => new Sample(tap))], By = by.Person, ByName = by.Name, RecordedAt = now };
        return new Fact(ChainKey.For(tail.Id), "water.sampled", tail.Id.Value, $"Drinking water sampled: {purpose.Words()}, {string.Join(", ", taps.Select(tap => layout.Find(tap)!.Name))}.")
            .With("set", id.Value).With("purpose", purpose).With("taps", string.Join(" ", taps)).With("collectedAt", at).With("deviceTime", collectedAt == at ? null : (Instant?)collectedAt).With("case", made.Case?.Value.ToString());
    }

    /// <summary>Takes over what the laboratory told of one or more of its samples, by their place in the set.</summary>
    public Decision Tell(IReadOnlyList<(int Sample, Instant AnalysisStartedAt, bool Coliform, bool EColi)> results, Instant toldAt)
    {
        if (!Counts)
        {
            return new Refusal("set-voided", "This set was taken out as not valid. Enter the results of the set that replaced it.");
        }

        var told = Samples.ToArray();
        foreach (var (index, started, coliform, eColi) in results)
        {
            if (index < 0 || index >= told.Length)
            {
                return new Refusal("no-such-sample", $"The set has samples 1 to {told.Length}.");
            }

            if ((eColi && !coliform ? new Refusal("not-coliform", "E. coli is a coliform: a sample with E. coli is total coliform-positive too.") : null)
                is { } no || (no = WaterRule.WhyNotAnalysis(CollectedAt, started) ?? (toldAt < started ? new Refusal("told-before", "The laboratory told before the analysis began. Check both times.") : null)) is not null)
            {
                return no;
            }

            var sample = new Sample(told[index].Tap, started, coliform, eColi);
            if (told[index].IsTold && told[index] != sample)
            {
                return new Refusal("told-already", $"Sample {index + 1} has its result. If a negative one was entered in error, take the set out and sample anew; a positive one stands, since it started its actions. Nothing is deleted.");
            }

            told[index] = sample;
        }

        if (told.SequenceEqual(Samples))
        {
            return new Decision.AlreadySo("These results stand already.");
        }

        Samples = told;
        return new Fact(ChainKey.For(Tail), "water.result", Tail.Value, $"Drinking water result, {Purpose.Words()}: {string.Join(", ", told.Where(sample => sample.IsTold).Select(sample => $"{sample.Tap} {(sample.EColi == true ? "E. coli-positive" : sample.Coliform == true ? "coliform-positive" : "negative")}"))}.")
            .With("set", Id.Value).With("toldAt", toldAt).With("results", string.Join(" ", told.Select(sample => $"{sample.Tap}={(sample.EColi == true ? "ec" : sample.Coliform == true ? "tc" : sample.IsTold ? "neg" : "pending")}")));
    }

    /// <summary>Takes it out: not valid, lost, or entered in error. It counts as not taken; nothing is deleted.</summary>
    public Decision Void(string why, Instant now)
    {
        if (!Counts)
        {
            return new Decision.AlreadySo("It is taken out already.");
        }

        if (Samples.Any(sample => sample.Coliform == true))
        {
            return new Refusal("positive-stands", "A positive result has started its actions: the set stays.");
        }

        if (why.Trim().Length is 0 or > LongestReason)
        {
            return new Refusal("no-reason", $"Say why it does not count, in up to {LongestReason} characters.");
        }

        (VoidedAt, VoidedWhy) = (now, why.Trim());
        return new Fact(ChainKey.For(Tail), "water.set-voided", Tail.Value, $"Drinking water samples taken out: {VoidedWhy}").With("set", Id.Value);
    }
}
