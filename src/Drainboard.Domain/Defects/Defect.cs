using Drainboard.Domain.Accounts;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Recurrence;
using NodaTime;

namespace Drainboard.Domain.Defects;

/// <summary>
/// What the station makes of a report. Holds the current state; how it came about is in the record. It changes only
/// through its methods, each of which answers a <see cref="Decision"/> and leaves it untouched when it refuses.
/// </summary>
public sealed class Defect
{
    /// <summary>How much older than the sighting a log entry may be: clocks differ, a year mistyped does not (our choice).</summary>
    private static readonly Duration LogBeforeSeen = Duration.FromDays(1);

    private Defect()
    {
    }

    /// <summary>A report has come in: the defect begins as reported, with what the reporter said.</summary>
    public Defect(DefectId id, TailId tail, Sighting sighting, Instant receivedAt)
    {
        (Id, Tail, Position, Symptom, Leak, LeakWhere) = (id, tail, sighting.Position, sighting.Symptom, sighting.Leak, sighting.LeakWhere);
        (Log, ReceivedAt, SeenAt, SavedAt) = (sighting.Log, receivedAt, sighting.SeenAt, sighting.SavedAt);
        RecordedAt = sighting.Log?.LoggedAt ?? receivedAt;
    }

    public DefectId Id { get; private set; }

    public TailId Tail { get; private set; }

    /// <summary>Running number within the tail, given when it is first saved.</summary>
    public int Number { get; private set; }

    public Position Position { get; private set; }

    public Symptom Symptom { get; private set; }

    public LeakAnswer Leak { get; private set; }

    public string LeakWhere { get; private set; } = "";

    public DefectState State { get; private set; } = DefectState.Reported;

    public Closure? Closure { get; private set; }

    /// <summary>The defect that this one turned out to be the same as.</summary>
    public DefectId? SameAs { get; private set; }

    public Instant SeenAt { get; private set; }

    /// <summary>When the report was saved on a device, where that is known.</summary>
    public Instant? SavedAt { get; private set; }

    public Instant ReceivedAt { get; private set; }

    /// <summary>
    /// The time that starts a clock: the earliest log entry, or when it was received while no log entry is known. A second
    /// deferral keeps it (AMC M.A.403(d): the original date is retained).
    /// </summary>
    public Instant RecordedAt { get; private set; }

    public Instant? ClosedAt { get; private set; }

    public LogReference? Log { get; private set; }

    public LogReference? ClosureLog { get; private set; }

    /// <summary>A deferral of it has lapsed: it is rectified, and not deferred again.</summary>
    public bool HasLapsed { get; private set; }

    /// <summary>Who is on it now; null: nobody said so.</summary>
    public Holder? Holder { get; private set; }

    /// <summary>The deferral proposed or running, if any.</summary>
    public DeferralId? Deferral { get; private set; }

    /// <summary>
    /// Derived: the repeat flag as the rule judged it from this fixture's write-ups. Kept so that the Board need not read
    /// history; judged in the transaction that receives this defect, and again in the one that sorts it.
    /// </summary>
    public RepeatFlag? Repeat { get; private set; }

    public long Version { get; private set; }

    public bool IsActive => State != DefectState.Closed;

    /// <summary>The one of its four times that a policy counts from.</summary>
    public Instant TimeOf(ClockStart start) => start switch
    {
        ClockStart.Seen => SeenAt,
        ClockStart.Saved => SavedAt ?? ReceivedAt,
        ClockStart.Logged => RecordedAt,
        ClockStart.Received => ReceivedAt,
    };

    public void Give(int number) => Number = number;

    public void Flag(RepeatFlag? repeat) => Repeat = repeat;

    public Decision Sort(Symptom symptom, LeakAnswer leak, string leakWhere, LogReference? log, LogMode mode)
    {
        if (Lifecycle.WhyNot(State, Act.Sort) is { } no)
        {
            return no;
        }

        var entry = log ?? Log;
        if (mode == LogMode.BesideLog && entry is null)
        {
            return new Refusal("no-log-reference", "Enter the log page and line where this stands: the aircraft log governs. If it is not in a log yet, write it there first; the text to copy is on this page.");
        }

        if (entry is not null && entry.LoggedAt < SeenAt - LogBeforeSeen)
        {
            return new Refusal("logged-before-seen", "The log entry is more than a day older than the sighting. Check its date: it starts every clock and is not moved later.");
        }

        if (symptom == Symptom.Leaks && leak != LeakAnswer.Leaking)
        {
            return new Refusal("leaks-but-no-leak", "\"Leaks\" and no leak do not go together. If it does not leak, choose what is seen instead.");
        }

        if (leak == LeakAnswer.Leaking && leakWhere.Trim().Length == 0)
        {
            return new Refusal("leak-where", "It leaks: say where, in a few words.");
        }

        (Symptom, Leak, LeakWhere, State) = (symptom, leak, leakWhere.Trim(), DefectState.Open);
        Enter(entry);
        return Fact("defect.sorted", $"Sorted: {Symptom.Words().ToLowerInvariant()}. {LeakWords()}.")
            .With("symptom", Symptom).With("leak", Leak).With("leakWhere", LeakWhere).With("log", Log?.ToString()).With("recordedAt", RecordedAt).With("logEntered", log?.ToString()).With("logEnteredAt", log?.LoggedAt);
    }

    /// <summary>Somebody saw the same fault again and says so: it is added here instead of opening another. The earliest times and a leak are taken over. Another symptom, or a log entry that cannot be, opens one of its own.</summary>
    /// <param name="deferral">The running or proposed deferral: a leak ends it where its basis allows none.</param>
    public Decision Add(Report report, Deferral? deferral, Instant now)
    {
        if (Lifecycle.WhyNot(State, Act.Report) is { } no)
        {
            return no;
        }

        if (report.Tail != Tail || report.Position != Position)
        {
            return new Refusal("another-fixture", "This report is about another fixture.");
        }

        if (report.Symptom != Symptom)
        {
            return new Refusal("another-symptom", "This report is of something else than what stands.");
        }

        if (report.Log is { } entry && entry.LoggedAt < report.SeenAt - LogBeforeSeen)
        {
            return new Refusal("logged-before-seen", "The log entry is more than a day older than the sighting. It is looked at when it is sorted.");
        }

        Enter(report.Log);
        // A clock that is off moves nothing; neither does what somebody saw on a running deferral: control's count goes by the log.
        if (report.ClockOff is null && deferral is not { EndedAt: null })
        {
            TakeTimes(report.SeenAt, report.SavedAt, report.ReceivedAt);
        }

        if (report.Leak == LeakAnswer.Leaking && Leak != LeakAnswer.Leaking)
        {
            (Leak, LeakWhere) = (report.Leak, report.LeakWhere);
        }

        var ended = deferral?.EndForALeak(this, now) == true;
        return Fact("report.added", $"Reported again: {report.Symptom.Words().ToLowerInvariant()}. {(report.Leak == LeakAnswer.Leaking ? $"Leaking: {report.LeakWhere}" : report.Leak.Words())}.{(ended ? " The deferral has ended: its basis allows no leak." : "")}").With("deferralEnded", ended);
    }

    /// <param name="closing">Where the log says that both are one; needed beside the log when this one stands in it.</param>
    public Decision MergeInto(Defect other, LogReference? closing, LogMode mode, Instant now)
    {
        if (Lifecycle.WhyNot(State, Act.Merge) is { } no)
        {
            return no;
        }

        if (other.Id == Id || other.Tail != Tail)
        {
            return new Refusal("not-the-same-tail", "Join it to another defect of the same tail.");
        }

        if (!other.IsActive)
        {
            return new Refusal("other-is-closed", "The other defect is closed. If the fault is back, keep this one: that is a repeat, and it counts.");
        }

        if (Deferral is not null)
        {
            return new Refusal("has-deferral", "A deferral is proposed on this one. Withdraw it first, or join the other defect to this one.");
        }

        if (WhyNotClosed(closing, mode) is { } unlogged)
        {
            return unlogged;
        }

        other.Enter(Log);
        other.RecordedAt = other.Log is null ? Instant.Min(other.RecordedAt, RecordedAt) : other.RecordedAt;
        other.TakeTimes(SeenAt, SavedAt, ReceivedAt);
        if (Leak == LeakAnswer.Leaking && other.Leak != LeakAnswer.Leaking)
        {
            (other.Leak, other.LeakWhere) = (Leak, LeakWhere);
        }

        Close(Defects.Closure.SameDefect, closing, now);
        SameAs = other.Id;
        return Fact("defect.merged", $"Same defect as {other.Number}: joined to it.").With("sameAs", other.Id.Value).With("closureLog", ClosureLog?.ToString());
    }

    /// <param name="closing">Where the log says so; needed beside the log when this one stands in it.</param>
    public Decision CloseInError(string reason, LogReference? closing, LogMode mode, Instant now)
    {
        if (Lifecycle.WhyNot(State, Act.CloseInError) is { } no)
        {
            return no;
        }

        if (reason.Trim().Length == 0)
        {
            return new Refusal("no-reason", "Say why it was entered in error. Nothing is deleted; the reason stays with it.");
        }

        if (Deferral is not null)
        {
            return new Refusal("has-deferral", "A deferral is proposed on this one. Withdraw it first.");
        }

        if (WhyNotClosed(closing, mode) is { } unlogged)
        {
            return unlogged;
        }

        Close(Defects.Closure.EnteredInError, closing, now);
        return Fact("defect.entered-in-error", $"Closed as entered in error: {reason.Trim()}").With("reason", reason.Trim()).With("closureLog", ClosureLog?.ToString());
    }

    /// <param name="deferral">The running or proposed deferral: a leak ends it where its basis allows none.</param>
    public Decision AnswerLeak(LeakAnswer leak, string leakWhere, Deferral? deferral, Instant now)
    {
        if (Lifecycle.WhyNot(State, Act.AnswerLeak) is { } no)
        {
            return no;
        }

        if (leak == LeakAnswer.Leaking && leakWhere.Trim().Length == 0)
        {
            return new Refusal("leak-where", "It leaks: say where, in a few words.");
        }

        (Leak, LeakWhere) = (leak, leakWhere.Trim());
        var ended = deferral?.EndForALeak(this, now) == true;
        return Fact("defect.leak-answered", $"{LeakWords()}.{(ended ? " The deferral has ended: its basis allows no leak." : "")}").With("leak", Leak).With("leakWhere", LeakWhere).With("deferralEnded", ended);
    }

    /// <summary>"I have it." Whoever had it before is told by name; the later word counts.</summary>
    public Decision TakeOver(Actor by, Instant now)
    {
        if (Lifecycle.WhyNot(State, Act.TakeItem) is { } no)
        {
            return no;
        }

        if (Holder?.Person == by.Person)
        {
            return new Decision.AlreadySo("You have it.");
        }

        var before = Holder;
        Take(by, now);
        return Fact("defect.taken", before is null ? "Taken in hand." : "Taken over from somebody else.");
    }

    /// <summary>Nobody has it now.</summary>
    public Decision LetGo()
    {
        if (Lifecycle.WhyNot(State, Act.TakeItem) is { } no)
        {
            return no;
        }

        if (Holder is null)
        {
            return new Decision.AlreadySo("Nobody has it.");
        }

        Holder = null;
        return Fact("defect.let-go", "Let go again.");
    }

    /// <param name="entry">The entry of the record that is corrected; null where it is about the item as a whole. Both stay readable, and each leads to the other.</param>
    public Decision Correct(string words, long? entry = null)
    {
        if (Lifecycle.WhyNot(State, Act.Correct) is { } no)
        {
            return no;
        }

        if (words.Trim().Length == 0)
        {
            return new Refusal("no-words", "Write what is corrected. What stands stays readable; this is added to it.");
        }

        var fact = Fact("defect.corrected", $"Correction{(entry is { } number ? $" of entry {number}" : "")}: {words.Trim()}").With("correction", words.Trim());
        return entry is { } corrected ? fact.With("corrects", corrected) : fact;
    }

    /// <summary>A fact about this defect, on its tail's chain.</summary>
    public Fact Fact(string kind, string words) => new Fact(ChainKey.For(Tail), kind, Id.Value, words).With("state", State);

    internal void Take(Actor by, Instant now) => Holder = new Holder(by.Person, by.Name, now);

    /// <summary>A check found a leak.</summary>
    internal void FindLeak(string where) => (Leak, LeakWhere) = (LeakAnswer.Leaking, where);

    internal void Lapse() => HasLapsed = true;

    /// <summary>The defect that this one was joined to has itself been joined on.</summary>
    public void PointOn(DefectId to) => SameAs = to;

    internal void Propose(DeferralId deferral) => Deferral = deferral;

    internal void Defer() => State = DefectState.Deferred;

    internal void Reopen() => (State, Deferral) = (DefectState.Open, null);

    internal void FinishWork() => (State, Holder) = (DefectState.WorkDone, null);

    internal void SendBack(bool deferralRuns) => State = deferralRuns ? DefectState.Deferred : DefectState.Open;

    internal void Close(Closure closure, LogReference? log, Instant at) => (State, Closure, ClosureLog, ClosedAt, Deferral, Holder) = (DefectState.Closed, closure, log, at, null, null);

    private void TakeTimes(Instant seen, Instant? saved, Instant received)
    {
        (SeenAt, ReceivedAt) = (Instant.Min(SeenAt, seen), Instant.Min(ReceivedAt, received));
        SavedAt = saved is { } its && (SavedAt is not { } before || its < before) ? its : SavedAt;
    }

    private void Enter(LogReference? log)
    {
        if (log is null)
        {
            return;
        }

        if (Log is null || log.LoggedAt <= Log.LoggedAt)
        {
            (Log, RecordedAt) = (log, log.LoggedAt);
        }
    }

    /// <summary>What stands in the log is closed there too. A report that was never written up has no line to close.</summary>
    private Refusal? WhyNotClosed(LogReference? closing, LogMode mode) =>
        mode == LogMode.BesideLog && Log is not null && closing is null
            ? new Refusal("no-log-reference", "This stands in the aircraft log: close it there first, and enter the page and line that close it.")
            : null;

    private string LeakWords() => Leak == LeakAnswer.Leaking ? $"Leaking: {LeakWhere}" : Leak.Words();
}
