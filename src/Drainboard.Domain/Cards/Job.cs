using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Rectification;
using NodaTime;

namespace Drainboard.Domain.Cards;

/// <summary>
/// A job on a defect, done to one version of a work card. Its steps are rows of their own, so that two technicians at one card add to it
/// and overwrite nothing.
/// </summary>
public sealed class Job
{
    /// <summary>How old a tick may be that was kept on a device without a connection.</summary>
    private static readonly Duration LongestOffline = Duration.FromDays(2);

    private Job()
    {
    }

    public JobId Id { get; private set; }

    public DefectId Defect { get; private set; }

    public TailId Tail { get; private set; }

    /// <summary>The version of the card that it is done to.</summary>
    public WorkCardId Card { get; private set; }

    public string CardCode { get; private set; } = "";

    public PersonId StartedBy { get; private set; }

    public string StartedByName { get; private set; } = "";

    public Instant StartedAt { get; private set; }

    /// <summary>When it ended: with the work done, or left.</summary>
    public Instant? EndedAt { get; private set; }

    public long Version { get; private set; }

    public bool IsRunning => EndedAt is null;

    /// <param name="running">The job that runs on the defect, if one does.</param>
    public static Decision Start(JobId id, Defect defect, Fixture fixture, WorkCard card, Job? running, Actor by, Instant now, out Job? made)
    {
        made = null;
        if (Lifecycle.WhyNot(defect.State, Act.DoJob) is { } no)
        {
            return no;
        }

        if (running is not null)
        {
            return running.CardCode == card.Code
                ? new Decision.AlreadySo($"{running.StartedByName} began this card. Go on with it together.")
                : new Refusal("job-runs", $"{running.StartedByName} is on another card here (\"{running.CardCode}\"). Finish or leave that one first.");
        }

        if (!card.IsCurrent)
        {
            return new Refusal("card-withdrawn", $"\"{card.Title}\" version {card.Version} is not the current one. Open the item again and begin on the current version.");
        }

        if (!card.Kinds.Contains(fixture.Kind))
        {
            return new Refusal("card-kind", $"\"{card.Title}\" is for {string.Join(", ", card.Kinds.Select(kind => kind.Words()))}; {fixture.Name} is a {fixture.Kind.Words()}.");
        }

        made = new Job { Id = id, Defect = defect.Id, Tail = defect.Tail, Card = card.Id, CardCode = card.Code, StartedBy = by.Person, StartedByName = by.Name, StartedAt = now };
        defect.Take(by, now);
        return defect.Fact("job.started", $"Began on the work card {card.VersionWords}.").With("job", id.Value).With("card", card.Code).With("cardVersion", card.Version).With("manual", card.ManualReference);
    }

    /// <summary>Records one step. On <see cref="Decision.Done"/> <paramref name="made"/> is the row to store; a step that stands alike is answered as already so.</summary>
    /// <param name="done">The rows of this job so far.</param>
    public Decision Record(Defect defect, WorkCard card, IReadOnlyList<JobStep> done, string key, StepTerms terms, Actor by, Instant now, out JobStep? made)
    {
        made = null;
        if (WhyNotRunning(defect) is { } no)
        {
            return no;
        }

        if (card.Find(key) is not { } step)
        {
            return new Refusal("no-such-step", $"{card.VersionWords} has no step \"{key}\". Open the card again.");
        }

        var at = Instant.Max(Instant.Min(terms.DoneAt ?? now, now), Instant.Max(StartedAt, now - LongestOffline));
        var result = step.Measure is { } measure && terms is { Value: { } value, Result: not StepResult.NotHere } ? measure.IsWithin(value) ? StepResult.Good : StepResult.Bad : terms.Result;
        var last = LastOf(done, key);
        if (last is not null && !terms.Again)
        {
            return (last.Result, last.Value) == (result, terms.Value) && (terms.Words.Trim().Length == 0 || last.Words.Contains(terms.Words.Trim(), StringComparison.Ordinal)) && (terms.Photo is null || terms.Photo == last.Photo)
                ? new Decision.AlreadySo($"{last.ByName} ticked this already; it counts once.")
                : new Refusal("recorded-before", $"{last.ByName} recorded this step already: {Say(step, last)}. To record it once more, choose \"Once more\"; both stay on record and the later one counts.");
        }

        if ((WhyNot(step, result, terms) ?? (result == StepResult.NotHere && last is { Result: StepResult.Bad } ? new Refusal("was-bad", "This step was not as it should be, so it does apply here. Put it right and record it once more, or finish the card as it is: it may then be signed as not rectified.") : null)) is { } refused)
        {
            return refused;
        }

        if (result == StepResult.Good && WhyNotCovered(card, done, step) is { } covered)
        {
            return covered;
        }

        made = new JobStep(Id, step, done.Count(row => row.Step == key) + 1, result, terms, by, at);
        return defect.Fact("job.step", $"Step {card.NumberOf(step)}, {step.Words.TrimEnd('.')}: {Say(step, made)}.")
            .With("job", Id.Value).With("step", key).With("turn", made.Turn).With("result", result).With("value", made.Value is { } number ? step.Measure?.Words(number) : null).With("photo", made.Photo).With("doneAt", (Instant?)at);
    }

    /// <summary>A required inspection: signed by an authorised person who did none of the job.</summary>
    /// <param name="turn">Which time of the step the inspector saw.</param>
    /// <param name="performer">Who wrote the work up, where somebody has.</param>
    public Decision Inspect(Defect defect, WorkCard card, IReadOnlyList<JobStep> done, string key, int turn, PersonId? performer, SigningPlace place, Actor by, Instant now)
    {
        if (Lifecycle.WhyNot(defect.State, Act.InspectStep) is { } no)
        {
            return no;
        }

        if (card.Find(key) is not { } step || LastOf(done, key) is not { NeedsInspection: true } row)
        {
            return new Refusal("nothing-to-inspect", "This step is not done yet, or asks for no second person. It is inspected once it is done.");
        }

        if (row.Inspection is { } before)
        {
            return new Decision.AlreadySo($"{before.Name} inspected this already.");
        }

        if (row.Turn != turn)
        {
            return new Refusal("recorded-again", "The step was recorded once more since you looked. Look at what stands now, then sign.");
        }

        if (row.Result == StepResult.Bad)
        {
            return new Refusal("not-acceptable", "The step is not as it should be, so it is not accepted. It is put right and recorded once more first.");
        }

        if (by.Person == StartedBy || by.Person == performer || done.Any(other => other.By == by.Person))
        {
            return new Refusal("own-work", $"{by.Name} worked on this card. A required inspection is by another authorised person who did none of the work (14 CFR 121.709(b)).");
        }

        if (Signature.WhyNot(by, place with { IsOwnWork = false }, now) is { } unsigned)
        {
            return unsigned;
        }

        row.Inspect(Signature.By(by, now));
        return defect.Fact("job.inspected", $"Required inspection of step {card.NumberOf(step)}, {step.Words.TrimEnd('.')}: accepted.").With("job", Id.Value).With("step", key).With("turn", row.Turn).With("kind", row.Inspection!.Kind).With("intent", Signature.Intent);
    }

    /// <summary>Goes on with the card's current version: what was done to a step that stays the same counts on; a step whose words changed is done anew.</summary>
    public Decision GoOnWith(Defect defect, WorkCard mine, WorkCard current, IReadOnlyList<JobStep> done)
    {
        if (WhyNotRunning(defect) is { } no)
        {
            return no;
        }

        if (current.Id == Card)
        {
            return new Decision.AlreadySo("This job is on the current version.");
        }

        // What was opened anew is closed anew.
        var changed = mine.Steps.Where(step => step != current.Find(step.Key)).Select(step => step.Key).ToHashSet();
        changed.UnionWith(current.Steps.Where(step => step.Restores is { } opened && changed.Contains(opened)).Select(step => step.Key));
        foreach (var row in done.Where(row => changed.Contains(row.Step)))
        {
            row.Outdate();
        }

        Card = current.Id;
        return defect.Fact("job.card-changed", $"Went on with version {current.Version} of the work card, from version {mine.Version}.").With("job", Id.Value).With("card", current.Code).With("cardVersion", current.Version);
    }

    /// <summary>Leaves the card without having finished. What was done and what is disturbed stays on record.</summary>
    public Decision Leave(Defect defect, string reason, Instant now)
    {
        if (WhyNotRunning(defect) is { } no)
        {
            return no;
        }

        if (reason.Trim().Length is 0 or > 400)
        {
            return new Refusal("no-reason", "Say in up to 400 characters why the card is left, so that the next person knows.");
        }

        EndedAt = now;
        return defect.Fact("job.left", $"Left the work card: {reason.Trim()}").With("job", Id.Value).With("reason", reason.Trim());
    }

    /// <summary>Why the job cannot be finished yet.</summary>
    /// <param name="current">The card's current version.</param>
    public Refusal? WhyNotFinish(Defect defect, WorkCard mine, WorkCard? current, IReadOnlyList<JobStep> done, bool isShort)
    {
        if (WhyNotRunning(defect) is { } no)
        {
            return no;
        }

        if (current is null || current.Id != Card)
        {
            return new Refusal("card-changed", current is null
                ? $"{mine.VersionWords} was withdrawn while you worked on it. Leave this card and say why, then tell the work in own words or begin another card; what you ticked is kept."
                : $"The card is at version {current.Version} now; this job was begun on version {mine.Version}. {string.Join(" ", mine.ChangesTo(current))} Choose \"Go on with version {current.Version}\": what stays the same keeps its ticks.");
        }

        if (!isShort && mine.Steps.Select(step => WhyStale(mine, done, step)).OfType<string>().ToArray() is { Length: > 0 } stale)
        {
            return new Refusal("check-too-early", $"{string.Join(" ", stale)} A check proves nothing of what is done after it: make each again, with \"Once more\".");
        }

        var open = isShort ? [] : mine.Steps.Where(step => LastOf(done, step.Key) is null).ToArray();
        return open.Length > 0
            ? new Refusal("steps-open", $"Not recorded yet: {string.Join("; ", open.Select(step => $"{mine.NumberOf(step)} {step.Words.TrimEnd('.')}"))}. Do each, or say at the step why it does not apply here.")
            : null;
    }

    public void Finish(Instant now) => EndedAt = now;

    /// <summary>The rows that count: the last of each step that the card still has.</summary>
    public static IReadOnlyList<JobStep> Counting(WorkCard card, IReadOnlyList<JobStep> done) => [.. card.Steps.Select(step => LastOf(done, step.Key)).OfType<JobStep>()];

    /// <summary>The ops check or leak check that the card's steps make up; null where none was recorded.</summary>
    public static Check? CheckOf(WorkCard card, IReadOnlyList<JobStep> done, StepCheck kind)
    {
        var rows = card.Steps.Where(step => step.Check == kind).Select(step => LastOf(done, step.Key)).OfType<JobStep>().Where(row => row.Result != StepResult.NotHere).ToArray();
        return rows.Length == 0 ? null : new Check(rows.All(row => row.Result == StepResult.Good), string.Join(" ", rows.Select(row => row.Words).Where(words => words.Length > 0)), rows[^1].ByName, rows.Max(row => row.At));
    }

    /// <summary>What was not as it should be, the ops check and leak check aside, which stand by themselves.</summary>
    public static IReadOnlyList<string> OutOfLimits(WorkCard card, IReadOnlyList<JobStep> done) =>
        [.. Counting(card, done).Where(row => row.Result == StepResult.Bad && card.Find(row.Step)!.Check is not (StepCheck.OpsCheck or StepCheck.LeakCheck)).Select(row => Tell(card, row))];

    /// <summary>A step as the description of the work tells it; with who did it, where that is another person than the one who writes the work up.</summary>
    public static string Tell(WorkCard card, JobStep row, PersonId? performer = null) =>
        card.Find(row.Step) is { } step ? $"{step.Words.TrimEnd('.')}: {Say(step, row)}{(row.By == performer ? "" : $" ({row.ByName})")}" : row.Words;

    public static JobStep? LastOf(IReadOnlyList<JobStep> done, string key) => done.Where(row => row.Step == key && !row.IsOutdated).MaxBy(row => row.Turn);

    /// <summary>What a row says, in words.</summary>
    public static string Say(CardStep step, JobStep row) => row.Result == StepResult.NotHere
        ? $"does not apply here, {row.Words}"
        : string.Join(", ", new[] { Outcome(step, row), row.Value is { } value ? step.Measure?.Words(value) : null, row.Photo is null ? null : "photo", row.Words.TrimEnd('.') }.Where(words => !string.IsNullOrEmpty(words)));

    private static string Outcome(CardStep step, JobStep row) => (step.Check, row.Result) switch
    {
        (StepCheck.Measurement, StepResult.Bad) => $"OUT OF LIMITS ({step.Measure!.LimitWords})",
        (StepCheck.Measurement, _) => "within limits",
        (StepCheck.OpsCheck, StepResult.Bad) => "FAILED",
        (StepCheck.OpsCheck, _) => "works as it should",
        (StepCheck.LeakCheck, StepResult.Bad) => "LEAK FOUND",
        (StepCheck.LeakCheck, _) => "dry",
        (_, StepResult.Bad) => "NOT AS IT SHOULD BE",
        _ => "done",
    };

    /// <summary>
    /// Why a check that was recorded counts for nothing, in words; null while it does. It proves what was done before it: a step before it in the
    /// card that opens, closes or moves something, and is done afterwards or is yet to do, makes it void.
    /// </summary>
    public static string? WhyStale(WorkCard card, IReadOnlyList<JobStep> done, CardStep check) =>
        check.Check is StepCheck.OpsCheck or StepCheck.LeakCheck or StepCheck.TimedPour
        && LastOf(done, check.Key) is { Result: not StepResult.NotHere } row
        && card.Steps.TakeWhile(step => step != check).Where(step => step.Disturbs is not null || step.Restores is not null).FirstOrDefault(step => LastOf(done, step.Key) is not { } other || (other.Result != StepResult.NotHere && other.At > row.At)) is { } after
            ? $"Step {card.NumberOf(check)} ({check.Words.TrimEnd('.')}) was recorded before step {card.NumberOf(after)} ({after.Words.TrimEnd('.')})."
            : null;

    /// <summary>What a second person must inspect is not closed off before that.</summary>
    private static Refusal? WhyNotCovered(WorkCard card, IReadOnlyList<JobStep> done, CardStep step) =>
        step.Restores is { } opened && card.Steps.SkipWhile(other => other.Key != opened).TakeWhile(other => other != step).FirstOrDefault(other => LastOf(done, other.Key) is { NeedsInspection: true, Inspection: null }) is { } waiting
            ? new Refusal("inspect-first", $"Step {card.NumberOf(waiting)} ({waiting.Words.TrimEnd('.')}) waits for its required inspection, and this step closes it off. The inspection comes first.")
            : null;

    private static Refusal? WhyNot(CardStep step, StepResult result, StepTerms terms) =>
        terms.Words.Length > 400
            ? new Refusal("too-long", "Up to 400 characters.")
        : result == StepResult.NotHere
            ? terms.Words.Trim().Length == 0 ? new Refusal("say-why", "Say in a few words why this step does not apply here.") : null
        : step.Check == StepCheck.Measurement && terms.Value is null
            ? new Refusal("no-value", $"Enter what was measured ({step.Measure!.LimitWords}).")
        : step.Check == StepCheck.Measurement && terms.Value is < -100_000 or > 100_000
            ? new Refusal("no-value", "This is no reading of a real instrument. Check the number.")
        : step.Check == StepCheck.TimedPour && terms.PourWords is null
            ? new Refusal("no-pour", "No pour was timed since this job began. Time one, then tick this step.")
        : step.Check == StepCheck.Photo && terms.Photo is null
            ? new Refusal("no-photo", "Take the photo first; it is sent with this step.")
        : result == StepResult.Bad && terms.Words.Trim().Length == 0 && step.Check is not StepCheck.Measurement
            ? new Refusal("say-what", "Say in a few words what is wrong: the next person works from it.")
        : null;

    private Refusal? WhyNotRunning(Defect defect) =>
        Lifecycle.WhyNot(defect.State, Act.DoJob)
        ?? (IsRunning && defect.Id == Defect ? null : new Refusal("job-ended", "This card was finished or left meanwhile. What you did is on the item's story."));
}
