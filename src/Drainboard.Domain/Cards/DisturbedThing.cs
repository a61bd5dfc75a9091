using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Cards;

/// <summary>
/// Something put out of its usual state for the work: a breaker pulled, a valve shut, a panel off, a tool carried in. A release is refused
/// until it is restored; a deferral until it is restored or named as left so.
/// </summary>
public sealed class DisturbedThing
{
    private DisturbedThing()
    {
    }

    public DisturbedId Id { get; private set; }

    public DefectId Defect { get; private set; }

    public TailId Tail { get; private set; }

    /// <summary>The job and the step that disturbed it; null where it was noted by hand.</summary>
    public JobId? Job { get; private set; }

    public string? Step { get; private set; }

    public DisturbedKind Kind { get; private set; }

    public string Words { get; private set; } = "";

    public string ByName { get; private set; } = "";

    public Instant At { get; private set; }

    /// <summary>How it is left in the deferral; empty while nobody said so.</summary>
    public string LeftWords { get; private set; } = "";

    public string RestoredBy { get; private set; } = "";

    public Instant? RestoredAt { get; private set; }

    public long Version { get; private set; }

    public bool IsRestored => RestoredAt is not null;

    /// <summary>Neither restored nor named as left for a deferral.</summary>
    public bool IsLoose => !IsRestored && LeftWords.Length == 0;

    public static Decision Note(DisturbedId id, Defect defect, DisturbedKind kind, string words, Actor by, Instant now, out DisturbedThing? made)
    {
        made = null;
        if (Lifecycle.WhyNot(defect.State, Act.NoteDisturbed) is { } no)
        {
            return no;
        }

        if (words.Trim().Length is 0 or > 80)
        {
            return new Refusal("disturbed-words", "Say in up to 80 characters what it is and where: \"Shut-off valve under sink 1\".");
        }

        made = Make(id, defect, new Disturbance(kind, words), by, now);
        return made.Tell(defect, "disturbed.noted", $"Disturbed: {made.Title}.");
    }

    public static DisturbedThing ByStep(DisturbedId id, Defect defect, Job job, CardStep step, Actor by, Instant now)
    {
        var made = Make(id, defect, step.Disturbs!, by, now);
        (made.Job, made.Step) = (job.Id, step.Key);
        return made;
    }

    public string Title => $"{Kind.Words()}: {Words}";

    public Decision Restore(Defect defect, Actor by, Instant now)
    {
        if (Lifecycle.WhyNot(defect.State, Act.NoteDisturbed) is { } no)
        {
            return no;
        }

        if (IsRestored)
        {
            return new Decision.AlreadySo($"{RestoredBy} restored it already.");
        }

        (RestoredAt, RestoredBy) = (now, by.Name);
        return Tell(defect, "disturbed.restored", $"Restored: {Title}.");
    }

    /// <summary>Names it as left so in the deferral: the placard and the sheet say it, and the next station knows.</summary>
    public Decision LeaveFor(Defect defect, string words)
    {
        if (Lifecycle.WhyNot(defect.State, Act.NoteDisturbed) is { } no)
        {
            return no;
        }

        if (IsRestored)
        {
            return new Refusal("restored", $"{RestoredBy} restored it already.");
        }

        if (defect.State == DefectState.WorkDone)
        {
            return new Refusal("not-in-a-release", "A release leaves nothing disturbed. Restore it, or send the work back and defer the item.");
        }

        if (words.Trim().Length is 0 or > 160)
        {
            return new Refusal("left-words", "Say in up to 160 characters how it is left and why: \"Shut and tagged, sink out of use\".");
        }

        LeftWords = words.Trim();
        return Tell(defect, "disturbed.left", $"Left for a deferral: {Title}. {LeftWords}");
    }

    private static DisturbedThing Make(DisturbedId id, Defect defect, Disturbance what, Actor by, Instant now) =>
        new() { Id = id, Defect = defect.Id, Tail = defect.Tail, Kind = what.Kind, Words = what.Words.Trim(), ByName = by.Name, At = now };

    private Records.Fact Tell(Defect defect, string kind, string words) => defect.Fact(kind, words).With("thing", Id.Value).With("what", Kind).With("words", Words);
}
