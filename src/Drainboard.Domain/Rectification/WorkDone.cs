using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Rectification;

/// <summary>
/// One piece of work on a defect, from "done" through its two checks to the release. Its contents follow 14 CFR 43.9(a): a
/// description or reference, the date of completion, who did it if not the approver, and the signature with number and kind.
/// </summary>
public sealed class WorkDone
{
    /// <summary>What the certifying technician signs, in our words (after 14 CFR 43.9(a) and 121.709(b)).</summary>
    public const string Statement =
        "I certify that the work described here was done to the data referenced, that the checks named here were made by the people named, that required inspections were done by authorised persons, and that I know of nothing that makes the aircraft unfit for flight as far as this work is concerned. This covers only the work described.";

    /// <summary>What is signed where the fault stands: for the work alone, and no approval for return to service.</summary>
    public const string NotRectifiedStatement =
        "I certify that the work described here was done to the data referenced, as far as it is described. The fault stands, and what is named as open was not done: this is no approval for return to service.";

    private WorkDone()
    {
    }

    public RectificationId Id { get; private set; }

    public DefectId Defect { get; private set; }

    public TailId Tail { get; private set; }

    public Position Position { get; private set; }

    public Found Found { get; private set; }

    public Position FoundAt { get; private set; }

    public string ManualReference { get; private set; } = "";

    public IReadOnlyList<WorkStep> Steps { get; private set; } = [];

    public Instant CompletedAt { get; private set; }

    public int? Minutes { get; private set; }

    public PersonId Performer { get; private set; }

    public string PerformerName { get; private set; } = "";

    /// <summary>The work card that it was done to; null where it was told in free words.</summary>
    public CardWork? Card { get; private set; }

    /// <summary>The card's code, so that the times of a kind of job can be asked for.</summary>
    public string? CardCode { get; private set; }

    /// <summary>Measurements and steps that were not as they should be, in words.</summary>
    public IReadOnlyList<string> OutOfLimits { get; private set; } = [];

    public Check? OpsCheck { get; private set; }

    public Check? LeakCheck { get; private set; }

    public WorkOutcome? Outcome { get; private set; }

    public string OpenTasks { get; private set; } = "";

    public Signature? Release { get; private set; }

    /// <summary>Where the log holds the signature.</summary>
    public LogReference? SignedIn { get; private set; }

    /// <summary>Why the certifying technician sent it back, if so.</summary>
    public string ReturnReason { get; private set; } = "";

    public Instant RecordedAt { get; private set; }

    public long Version { get; private set; }

    /// <summary>Records work as done. On <see cref="Decision.Done"/> <paramref name="made"/> is the work to store.</summary>
    public static Decision Record(RectificationId id, Defect defect, CabinLayout layout, WorkTerms terms, Actor by, Instant now, out WorkDone? made)
    {
        made = null;
        if (Lifecycle.WhyNot(defect.State, Act.RecordWork) is { } no)
        {
            return no;
        }

        if (WhyNot(defect, layout, terms, now) is { } refused)
        {
            return refused;
        }

        var steps = terms.Steps.Select(step => step.Trim()).Where(step => step.Length > 0).Select((step, index) => new WorkStep(index + 1, step)).ToArray();
        made = new WorkDone
        {
            Id = id,
            Defect = defect.Id,
            Tail = defect.Tail,
            Position = defect.Position,
            Found = terms.Found,
            FoundAt = terms.FoundAt,
            ManualReference = terms.ManualReference.Trim(),
            Steps = steps,
            CompletedAt = terms.CompletedAt,
            Minutes = terms.Minutes,
            Card = terms.Card,
            CardCode = terms.Card?.Code,
            OutOfLimits = terms.OutOfLimits,
            Performer = by.Person,
            PerformerName = by.Name,
            OpsCheck = terms.OpsCheck,
            LeakCheck = terms.LeakCheck,
            RecordedAt = now,
        };
        defect.FinishWork();
        return defect.Fact("work.done", $"Work done: {terms.Found.Words().ToLowerInvariant()} at {terms.FoundAt}. {string.Join(" ", steps.Select(step => step.Words.EndsWith('.') ? step.Words : step.Words + "."))}")
            .With("found", terms.Found).With("foundAt", terms.FoundAt.Value).With("manual", made.ManualReference).With("completedAt", made.CompletedAt).With("minutes", (long)(made.Minutes ?? 0))
            .With("opsCheck", made.OpsCheck?.Passed.ToString()).With("leakCheck", made.LeakCheck?.Passed.ToString()).With("card", made.Card is { } card ? $"{card.Code} {card.Version}" : null);
    }

    /// <summary>Adds or repeats a check. A check that was made stays in the record when another follows it.</summary>
    public Decision RecordChecks(Defect defect, Check? ops, Check? leak)
    {
        if (WhyNotHere(defect, Act.RecordChecks) is { } no)
        {
            return no;
        }

        if (ops is null && leak is null)
        {
            return new Refusal("no-check", "Enter the result of the ops check, the leak check, or both.");
        }

        if (leak?.WhyNot() is { } wet)
        {
            return wet;
        }

        (OpsCheck, LeakCheck) = (ops ?? OpsCheck, leak ?? LeakCheck);
        var words = string.Join(" ", new[] { Say("Ops check", ops), Say("Leak check", leak) }.Where(text => text is not null));
        return defect.Fact("work.checked", words).With("opsCheck", ops?.Passed.ToString()).With("leakCheck", leak?.Passed.ToString());
    }

    /// <param name="ends">What is still disturbed or not inspected.</param>
    public Decision SignRelease(Defect defect, Deferral? deferral, ReleaseTerms terms, LooseEnds ends, LogMode mode, SigningPlace place, Actor by, Instant now)
    {
        if (WhyNotHere(defect, Act.Release) is { } no)
        {
            return no;
        }

        if (WhyNotRelease(terms, ends, mode) is { } refused)
        {
            return refused;
        }

        if (Signature.WhyNot(by, place, now) is { } unsigned)
        {
            return unsigned;
        }

        var notInspected = terms.Outcome == WorkOutcome.NotRectified ? ends.Uninspected.Select(step => $"Required inspection not made: {step}.") : [];
        (Release, Outcome, SignedIn, OpenTasks) = (Signature.By(by, now), terms.Outcome, terms.Log, string.Join(" ", notInspected.Prepend(terms.OpenTasks.Trim()).Where(words => words.Length > 0)));
        if (terms.Outcome.Closes() is { } closure)
        {
            deferral?.Finish(closure.Words(), now);
            defect.Close(closure, terms.Log, now);
        }
        else
        {
            GiveBack(defect, deferral, now);
        }

        return defect.Fact("work.released", $"{(terms.Outcome == WorkOutcome.NotRectified ? "Signed, not a release" : "Released")}: {terms.Outcome.Words()}.{(OpenTasks.Length > 0 ? $" Open tasks: {OpenTasks}" : "")}")
            .With("outcome", terms.Outcome).With("completedAt", CompletedAt).With("manual", ManualReference).With("kind", Release.Kind).With("organisation", Release.Organisation).With("approval", Release.Approval).With("intent", Signature.Intent).With("openTasks", OpenTasks).With("log", terms.Log?.ToString()).With("statement", terms.Outcome == WorkOutcome.NotRectified ? NotRectifiedStatement : Statement);
    }

    public Decision Return(Defect defect, Deferral? deferral, string reason, Instant now)
    {
        if (WhyNotHere(defect, Act.ReturnWork) is { } no)
        {
            return no;
        }

        if (reason.Trim().Length == 0)
        {
            return new Refusal("no-reason", "Say what is missing, so that the next person knows.");
        }

        ReturnReason = reason.Trim();
        GiveBack(defect, deferral, now);
        return defect.Fact("work.returned", $"Sent back: {ReturnReason}").With("reason", ReturnReason);
    }

    // A leak that the check found stands on the defect, and ends a deferral whose basis allows none.
    private void GiveBack(Defect defect, Deferral? deferral, Instant now)
    {
        if (LeakCheck is { Passed: false } leak)
        {
            defect.FindLeak(leak.Points?.FirstOrDefault(point => !point.Dry)?.Where ?? (leak.Words.Length > 0 ? leak.Words : "found at the leak check"));
        }

        if (deferral?.EndForALeak(defect, now) != true)
        {
            defect.SendBack(deferral is { IsRunning: true });
        }
    }

    private static string? Say(string what, Check? check) =>
        check is null ? null : $"{what} {(check.Passed ? "passed" : "failed")}{(check.Words.Length > 0 ? $": {check.Words}" : "")}.{(check.Points is { Count: > 0 } points ? $" Looked at: {string.Join("; ", points.Select(point => $"{point.Where}, {(point.Dry ? "dry" : "wet")}"))}." : "")}";

    private static Refusal? WhyNot(Defect defect, CabinLayout layout, WorkTerms terms, Instant now) =>
        layout.Find(terms.FoundAt) is null
            ? new Refusal("no-such-position", $"Layout {layout.Code} has no fixture at {terms.FoundAt}. Say where it was found.")
        : terms.Steps.All(step => step.Trim().Length == 0)
            ? new Refusal("no-steps", "Describe the work that was done (14 CFR 43.9(a)(1)).")
        : terms.ManualReference.Trim().Length == 0
            ? new Refusal("no-manual-reference", "Enter the approved manual reference that the work was done to.")
        : terms.CompletedAt > now + Report.ClockTolerance
            ? new Refusal("completed-in-future", "The completion time lies in the future. Enter when the work was finished.")
        : terms.CompletedAt < defect.SeenAt && terms.CompletedAt < defect.RecordedAt
            ? new Refusal("completed-before-seen", "The completion time lies before the defect was seen. Check the date.")
        : terms.Minutes is < 0 or > 2880
            ? new Refusal("minutes", "Hands-on time is 0 to 2,880 minutes.")
        : terms.LeakCheck?.WhyNot();

    private Refusal? WhyNotRelease(ReleaseTerms terms, LooseEnds ends, LogMode mode) =>
        (terms.Outcome == WorkOutcome.NotRectified ? ends.WhyNotDefer() : WhyNotProven(terms.Outcome) ?? ends.WhyNotRelease())
        ?? (mode == LogMode.BesideLog && terms.Log is null ? new Refusal("no-log-reference", "Enter the log page and line of this signature: the aircraft log governs.") : null);

    private Refusal? WhyNotProven(WorkOutcome outcome) =>
        OpsCheck is null
            ? new Refusal("no-ops-check", "No ops check is recorded. Make it and record it before the release.")
        : !OpsCheck.Passed
            ? new Refusal("ops-check-failed", "The ops check failed. Send the work back, or repeat the check.")
        : LeakCheck is null
            ? new Refusal("no-leak-check", "No leak check is recorded. Look at the traps and joints that were disturbed, and record it before the release.")
        : !LeakCheck.Passed
            ? new Refusal("leak-check-failed", "The leak check found a leak. A leak is never just a slow drain: send the work back, or repeat the check once it is dry.")
        : OutOfLimits.Count > 0
            ? new Refusal("out-of-limits", $"Not as it should be: {string.Join("; ", OutOfLimits)}. This may be signed as \"not rectified\" only; or send the work back, put it right and measure again.")
        : outcome == WorkOutcome.NoFaultFound && Found != Found.Nothing
            ? new Refusal("outcome-differs", $"The work says that {Found.Words().ToLowerInvariant()} was found; that is rectified, not \"no fault found\".")
        : null;

    private Refusal? WhyNotHere(Defect defect, Act act) =>
        Lifecycle.WhyNot(defect.State, act)
        ?? (defect.Id == Defect && Release is null && ReturnReason.Length == 0 ? null : new Refusal("no-work", "This piece of work is no longer the current one."));
}
