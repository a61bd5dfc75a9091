using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.PlannedChecks;

/// <summary>One planned check, done by one person on one fixture or one aircraft. It is never edited; one that was ticked in error is taken back with its reason and stays on record.</summary>
public sealed class CheckDone
{
    public const int LongestReason = 200;

    private CheckDone()
    {
    }

    public CheckDoneId Id { get; private set; }

    public TailId Tail { get; private set; }

    /// <summary>Code of the check.</summary>
    public string Check { get; private set; } = "";

    /// <summary>Version of the check that it was done to.</summary>
    public int Number { get; private set; }

    /// <summary>The fixture; null where the check is of the whole aircraft.</summary>
    public Position? Position { get; private set; }

    public CheckOutcome Outcome { get; private set; }

    /// <summary>The report that a finding was written up as.</summary>
    public ReportId? Report { get; private set; }

    public Instant At { get; private set; }

    public PersonId By { get; private set; }

    public string ByName { get; private set; } = "";

    public Instant RecordedAt { get; private set; }

    public Instant? TakenBackAt { get; private set; }

    public string TakenBackBy { get; private set; } = "";

    public string TakenBackWhy { get; private set; } = "";

    /// <summary>None that counts and is later was known when rows of its kind were last written: a reader of many tails looks at these only.</summary>
    public bool IsNewest { get; private set; }

    public long Version { get; private set; }

    /// <summary>It puts the next one off: it was done, and stands.</summary>
    public bool Counts => TakenBackAt is null && Outcome != CheckOutcome.NotReached;

    /// <summary>Records it. On <see cref="Decision.Done"/> <paramref name="made"/> is to be stored.</summary>
    /// <param name="at">By the device; a time ahead of ours is taken as now.</param>
    /// <param name="report">With a finding, and only with one.</param>
    public static Decision Record(CheckDoneId id, Tail tail, CabinLayout layout, PlannedCheck check, Position? position, CheckOutcome outcome, ReportId? report, Instant at, Actor by, Instant now, out CheckDone? made)
    {
        made = null;
        var when = Instant.Min(at, now);
        if (WhyNot(tail, layout, check, position, outcome, report, when) is { } no)
        {
            return no;
        }

        made = new CheckDone { Id = id, Tail = tail.Id, Check = check.Code, Number = check.Number, Position = position, Outcome = outcome, Report = report, At = when, By = by.Person, ByName = by.Name, RecordedAt = now };
        return new Fact(ChainKey.For(tail.Id), "check.done", tail.Id.Value, $"{check.Terms.Title}{(position is { } where ? $", {where}" : "")}: {outcome.Words()}.")
            .With("done", id.Value).With("check", check.Code).With("number", check.Number).With("position", position?.Value).With("outcome", outcome).With("report", report?.Value.ToString()).With("at", when).With("deviceTime", at == when ? null : (Instant?)at).With("manual", check.Terms.Manual);
    }

    /// <summary>Takes it back as ticked in error: it counts for nothing, and a report that was written with it stays.</summary>
    public Decision TakeBack(string why, Actor by, Instant now)
    {
        if (TakenBackAt is not null)
        {
            return new Refusal("taken-back-before", "This check was taken back already.");
        }

        if (why.Trim().Length is 0 or > LongestReason)
        {
            return new Refusal("no-reason", $"Say why it was ticked in error, in up to {LongestReason} characters. Nothing is deleted; the reason stays with it.");
        }

        (TakenBackAt, TakenBackBy, TakenBackWhy) = (now, by.Name, why.Trim());
        return new Fact(ChainKey.For(Tail), "check.taken-back", Tail.Value, $"Check {Check}{(Position is { } where ? $" at {where}" : "")} of {At} taken back, ticked in error: {TakenBackWhy}").With("done", Id.Value).With("reason", TakenBackWhy);
    }

    /// <summary>Marks the newest that counts among all of one tail, check and fixture.</summary>
    public static void MarkNewest(IEnumerable<CheckDone> alike)
    {
        var all = alike.ToArray();
        var newest = all.Where(done => done.Counts).MaxBy(done => (done.At, done.RecordedAt));
        foreach (var done in all)
        {
            done.IsNewest = done == newest;
        }
    }

    private static Refusal? WhyNot(Tail tail, CabinLayout layout, PlannedCheck check, Position? position, CheckOutcome outcome, ReportId? report, Instant when) =>
        tail.WhyNotAt(when) is { } early ? early
        : !Enum.IsDefined(outcome) ? new Refusal("outcome", "A check comes out good, with something found, or not reached.")
        : check.IsRetired ? new Refusal("check-retired", $"\"{check.Terms.Title}\" is not asked for any more.")
        : check.Terms.Layout.Length > 0 && check.Terms.Layout != layout.Code ? new Refusal("other-layout", $"\"{check.Terms.Title}\" is for layout {check.Terms.Layout}; {tail.Registration} flies with {layout.Code}.")
        : check.Terms.Kind is null && position is not null ? new Refusal("whole-aircraft", $"\"{check.Terms.Title}\" is of the whole aircraft: it names no fixture. A finding does.")
        : check.Terms.Kind is { } kind && (position is not { } at || layout.Find(at)?.Kind != kind) ? new Refusal("no-such-position", $"\"{check.Terms.Title}\" is done for each {kind.Words()}: name the position of one in layout {layout.Code}.")
        : outcome == CheckOutcome.Finding != report is not null ? new Refusal("finding", "A finding is written up with what is seen and whether it leaks; nothing else is.")
        : null;
}
