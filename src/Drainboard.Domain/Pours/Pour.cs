using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Pours;

/// <summary>
/// One timed pour at one fixture. It keeps the clean reference that it was compared with and the station's limit at that time, so that
/// what was shown then can be recomputed. It never changes but for being
/// withdrawn as entered in error.
/// </summary>
public sealed class Pour
{
    /// <summary>A drain that still stands after this long is not timed further.</summary>
    public const long LongestMilliseconds = 30 * 60 * 1000;

    /// <summary>Sooner than this nobody can say that a basin stands (our choice).</summary>
    public const long ShortestStandMilliseconds = 10_000;

    /// <summary>Start and stop by hand, when nobody says otherwise (common practice, no source).</summary>
    public const int HandUncertaintyMilliseconds = 500;

    private Pour()
    {
    }

    public PourId Id { get; private set; }

    public TailId Tail { get; private set; }

    public Position Position { get; private set; }

    public DefectId? Defect { get; private set; }

    public PourMoment Moment { get; private set; }

    public PourMeasure Measure { get; private set; } = PourMeasure.Volume(1000);

    public long Milliseconds { get; private set; }

    public int UncertaintyMilliseconds { get; private set; }

    public PourRun Run { get; private set; }

    public bool IsReference { get; private set; }

    /// <summary>The clean reference it was compared with, and what that one took; null where none was comparable.</summary>
    public PourId? Reference { get; private set; }

    public long? ReferenceMilliseconds { get; private set; }

    public int? ReferenceUncertaintyMilliseconds { get; private set; }

    /// <summary>Below this percentage of the clean opening the station called a drain slow.</summary>
    public int SlowPercent { get; private set; }

    public Instant PouredAt { get; private set; }

    public Instant RecordedAt { get; private set; }

    public PersonId By { get; private set; }

    public string ByName { get; private set; } = "";

    /// <summary>Entered in error: it stays on record and is left out of advice, trend and comparison.</summary>
    public Instant? WithdrawnAt { get; private set; }

    public string WithdrawnBy { get; private set; } = "";

    public string WithdrawnWhy { get; private set; } = "";

    public long Version { get; private set; }

    /// <summary>Openness against the clean reference, 1 being as clean; 0 when it stood; null without a reference.</summary>
    public double? Openness => ReferenceMilliseconds is not { } clean ? null : Run == PourRun.NotAtAll ? 0 : DrainTest.Openness(clean, Milliseconds);

    /// <summary>One standard uncertainty of <see cref="Openness"/>, from both times.</summary>
    public double? OpennessUncertainty => ReferenceMilliseconds is not { } clean || Run == PourRun.NotAtAll ? null
        : DrainTest.OpennessUncertainty(clean, ReferenceUncertaintyMilliseconds ?? 0, Milliseconds, UncertaintyMilliseconds);

    /// <summary>By the watch where there is a reference, else as the person saw it.</summary>
    public PourResult Result => Openness is { } open
        ? open * 100 < SlowPercent ? PourResult.Slow : PourResult.Ok
        : Run == PourRun.Freely ? PourResult.Ok : PourResult.Slow;

    /// <summary>It was faster than clean by more than the watch can explain: one of the two times is not what it seems.</summary>
    public bool IsFasterThanClean => Openness is { } open && open - (2 * (OpennessUncertainty ?? 0)) > 1;

    public string ResultWords => Openness switch
    {
        0 => "stood",
        { } open => $"{(Result == PourResult.Slow ? "slow" : "runs free")}, {Math.Round(open * 100):0} % of clean",
        null => Run switch { PourRun.Freely => "runs free", PourRun.Slowly => "slow", PourRun.NotAtAll => "stood" },
    };

    /// <summary>Records a pour. On <see cref="Decision.Done"/> <paramref name="made"/> is the pour to store.</summary>
    /// <param name="defect">The defect it belongs to, or null.</param>
    /// <param name="workedAt">When the work that stands on it was completed; null while none does.</param>
    /// <param name="reference">The newest clean reference of this fixture with the same measure, or null.</param>
    /// <param name="slowPercent">The station's limit.</param>
    public static Decision Time(PourId id, Tail tail, CabinLayout layout, Position at, Defect? defect, Instant? workedAt, PourTerms terms, Pour? reference, int slowPercent, Actor by, Instant now, out Pour? made)
    {
        made = null;
        if ((PourQuestions.WhyNotAt(layout, at) ?? terms.Measure.WhyNot() ?? WhyNot(layout, at, defect, terms)) is { } no)
        {
            return no;
        }

        // A device whose clock runs ahead is not refused for it: the pour was at the latest when we received it.
        var pouredAt = Instant.Min(terms.PouredAt, now);
        var clean = terms.IsReference ? null : reference;
        made = new Pour
        {
            Id = id, Tail = tail.Id, Position = at, Defect = defect?.Id, Moment = defect is null ? PourMoment.Between : pouredAt >= workedAt ? PourMoment.After : PourMoment.Before, Measure = terms.Measure, Milliseconds = terms.Milliseconds, UncertaintyMilliseconds = terms.UncertaintyMilliseconds,
            Run = terms.Run, IsReference = terms.IsReference, Reference = clean?.Id, ReferenceMilliseconds = clean?.Milliseconds, ReferenceUncertaintyMilliseconds = clean?.UncertaintyMilliseconds,
            SlowPercent = slowPercent, PouredAt = pouredAt, RecordedAt = now, By = by.Person, ByName = by.Name,
        };
        var fixture = layout.Find(at)!;
        var words = $"Timed pour at {fixture.Name}: {terms.Measure.Words}, {(terms.Run == PourRun.NotAtAll ? "still standing after " : "")}{terms.Milliseconds / 1000m:0.0} s: {(terms.IsReference ? "kept as the clean reference" : made.ResultWords)}.";
        return new Fact(ChainKey.For(tail.Id), "pour.timed", defect?.Id.Value ?? tail.Id.Value, words)
            .With("pour", id.Value).With("position", at.Value).With("milliseconds", terms.Milliseconds).With("uncertaintyMilliseconds", terms.UncertaintyMilliseconds).With("run", terms.Run).With("reference", terms.IsReference).With("pouredAt", pouredAt).With("deviceTime", terms.PouredAt == pouredAt ? null : (Instant?)terms.PouredAt)
            .With("comparedWith", clean?.Id.Value.ToString()).With("measure", terms.Measure.Words).With("moment", made.Moment).With("confirmed", string.Join(" ", terms.Confirmed.Order(StringComparer.Ordinal)));
    }

    /// <summary>Takes it back as entered in error; nothing is deleted.</summary>
    public Decision Withdraw(string why, Actor by, Instant now)
    {
        if (WithdrawnAt is not null)
        {
            return new Refusal("withdrawn-before", "This pour was withdrawn already.");
        }

        if (why.Trim().Length is 0 or > 200)
        {
            return new Refusal("no-reason", "Say why it was entered in error, in up to 200 characters. Nothing is deleted; the reason stays with it.");
        }

        (WithdrawnAt, WithdrawnBy, WithdrawnWhy) = (now, by.Name, why.Trim());
        return new Fact(ChainKey.For(Tail), "pour.withdrawn", Defect?.Value ?? Tail.Value, $"Pour at {Position} of {Milliseconds / 1000m:0.0} s withdrawn, entered in error: {WithdrawnWhy}").With("pour", Id.Value).With("reason", WithdrawnWhy);
    }

    private static Refusal? WhyNot(CabinLayout layout, Position at, Defect? defect, PourTerms terms)
    {
        var open = PourQuestions.For(layout, at).Where(question => !terms.Confirmed.Contains(question.Code)).ToArray();
        return open.Length > 0
            ? new Refusal("not-confirmed", $"Before water is poured, confirm: {string.Join(" ", open.Select(question => question.Words))}")
        : defect is { IsActive: false }
            ? new Refusal("defect-is-closed", "This defect is closed. Time the pour without it, or write the fault up again.")
        : terms.Milliseconds <= 0
            ? new Refusal("no-time", "The watch shows no time. Start it when the water begins to run, stop it at the lower mark or when the basin is empty.")
        : terms.Milliseconds > LongestMilliseconds
            ? new Refusal("too-long", "After half an hour a drain is not timed further. Stop the watch and say that it stood.")
        : terms.Run == PourRun.NotAtAll && terms.Milliseconds < ShortestStandMilliseconds
            ? new Refusal("stood-too-soon", "Watch a standing basin for ten seconds at the least before you say that it stood.")
        : terms.UncertaintyMilliseconds < 0 || terms.UncertaintyMilliseconds >= terms.Milliseconds
            ? new Refusal("uncertainty", "A pour is longer than the start and stop of a watch by hand can be off (half a second, unless you say otherwise).")
        : terms.IsReference && terms.Run != PourRun.Freely
            ? new Refusal("reference-not-free", "A clean reference is a pour that runs freely. Clean the drain first, or leave the tick away.")
        : null;
    }
}
