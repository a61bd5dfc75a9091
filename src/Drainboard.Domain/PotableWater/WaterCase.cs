using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.PotableWater;

/// <summary>
/// What an event for a tail's drinking water asks for, from the moment it was told until it ends: actions with their clocks, and whether
/// water may be served meanwhile. It ends by being lifted, by negative repeats, or by a case that takes its place.
/// </summary>
public sealed class WaterCase
{
    public const int LongestWords = 400;

    private static readonly Duration ToChoose = Duration.FromHours(72);
    private static readonly Duration ToRepeat = Duration.FromHours(24);

    private WaterCase()
    {
    }

    public WaterCaseId Id { get; private set; }

    public TailId Tail { get; private set; }

    public WaterEvent Kind { get; private set; }

    public Instant ToldAt { get; private set; }

    /// <summary>As the programme said when it was opened.</summary>
    public bool CanShutOff { get; private set; }

    /// <summary>The set whose result started it; null: none did.</summary>
    public SampleSetId? From { get; private set; }

    public string Words { get; private set; } = "";

    /// <summary>The way that was chosen where the rule leaves a choice (141.803(c)(3): i, ii or iii); empty else.</summary>
    public string Way { get; private set; } = "";

    /// <summary>What was said to be done, samples and disinfection apart: those stand on their own.</summary>
    public IReadOnlyList<WaterStep> Done { get; private set; } = [];

    public string OpenedBy { get; private set; } = "";

    public Instant RecordedAt { get; private set; }

    public Instant? EndedAt { get; private set; }

    public string EndedBy { get; private set; } = "";

    public string EndedWhy { get; private set; } = "";

    public long Version { get; private set; }

    public bool IsRunning => EndedAt is null;

    /// <summary>Whether the rule leaves a choice of ways.</summary>
    public bool HasWays => Kind == WaterEvent.ColiformPositive;

    /// <summary>When its repeat samples were collected.</summary>
    public Instant? RepeatsAt { get; private set; }

    /// <summary>Water is not served while this is so. Before a way is chosen, and while repeats decide, the rule leaves access open, but no longer than it gives for either: 72 and 24 hours.</summary>
    public bool RestrictsAt(Instant now) => IsRunning && (!HasWays || Way is "i" or "ii" || (Way.Length == 0 && now > ToldAt + ToChoose) || WasMissedAt(now));

    /// <summary>Its repeat samples were not collected in their 24 hours (141.803(g)).</summary>
    public bool WasMissedAt(Instant now) => IsRunning && Way == "iii" && RepeatsAt is null && now > ToldAt + ToRepeat;

    public IReadOnlyList<WaterAction> Actions => [.. WaterRule.ActionsAfter(Kind, ToldAt, CanShutOff).Where(action => Way.Length == 0 || action.Way is null || action.Way == Way)];

    /// <summary>Opens it. On <see cref="Decision.Done"/> <paramref name="made"/> is to be stored.</summary>
    /// <param name="from">The set whose result it is, or null.</param>
    /// <param name="words">What happened: which source, which task. Up to 400 characters; with a result it may be empty.</param>
    public static Decision Open(WaterCaseId id, Tail tail, WaterEvent kind, Instant toldAt, bool canShutOff, SampleSet? from, string words, Actor by, Instant now, out WaterCase? made)
    {
        made = null;
        var at = Instant.Min(toldAt, now);
        if ((tail.WhyNotAt(at) ?? (words.Trim().Length > LongestWords || (from is null && words.Trim().Length == 0) ? new Refusal("water-words", $"Say what happened, in up to {LongestWords} characters: which result, which task, which source.") : null)) is { } no)
        {
            return no;
        }

        made = new WaterCase { Id = id, Tail = tail.Id, Kind = kind, ToldAt = at, CanShutOff = canShutOff, From = from?.Id, Words = words.Trim(), OpenedBy = by.Name, RecordedAt = now };
        return new Fact(ChainKey.For(tail.Id), "water.case-opened", tail.Id.Value, $"Drinking water: {kind.Words()}. Its actions run.")
            .With("case", id.Value).With("event", kind).With("toldAt", at).With("canShutOff", canShutOff).With("set", from?.Id.Value.ToString()).With("said", made.Words);
    }

    /// <summary>Chooses one of the ways that the rule leaves. Repeats are chosen within their 24 hours, and not to get out of a restriction.</summary>
    public Decision Choose(string way, Instant now)
    {
        if (WhyNotRunning() is { } no)
        {
            return no;
        }

        if (!HasWays || way is not ("i" or "ii" or "iii"))
        {
            return new Refusal("no-such-way", HasWays ? "The ways are i, ii and iii (40 CFR 141.803(c)(3))." : "Here the rule leaves no choice: all of it is done.");
        }

        if (Way == way)
        {
            return new Decision.AlreadySo("That way is chosen already.");
        }

        if (way == "iii" && (Way.Length > 0 || now > ToldAt + ToRepeat))
        {
            return new Refusal("no-longer", Way.Length > 0 ? "Access is restricted by the way that was chosen: it ends as that way says, not by repeats." : "The 24 hours for repeat samples are over (141.803(c)(3)(iii)). Go way i or ii.");
        }

        Way = way;
        return new Fact(ChainKey.For(Tail), "water.way-chosen", Tail.Value, $"Drinking water: way {way} of 40 CFR 141.803(c)(3) is gone.").With("case", Id.Value).With("way", way);
    }

    /// <summary>Says that a restriction, a notice or a report is done.</summary>
    public Decision Do(WaterAct act, Instant at, Actor by, Instant now)
    {
        if (act is WaterAct.DisinfectAndFlush or WaterAct.RepeatSamples or WaterAct.FollowUpSamples)
        {
            return new Refusal("done-elsewhere", "Enter the disinfection or the samples themselves: the case reads them.");
        }

        // A report may be made after access was given back.
        if ((act == WaterAct.Report ? null : WhyNotRunning()) is { } no)
        {
            return no;
        }

        if (HasWays && Way.Length == 0 && act != WaterAct.Report)
        {
            return new Refusal("no-way", "Choose first which of the ways is gone.");
        }

        if (Actions.All(action => action.Act != act))
        {
            return new Refusal("not-asked", "This is not asked for here.");
        }

        if (Done.Any(step => step.Act == act))
        {
            return new Decision.AlreadySo("That is done already.");
        }

        var when = Instant.Min(at, now);
        Done = [.. Done, new WaterStep(act, when, by.Name)];
        return new Fact(ChainKey.For(Tail), "water.step-done", Tail.Value, $"Drinking water: {act.Words()}: done.").With("case", Id.Value).With("act", act).With("at", when);
    }

    /// <summary>Why a sample for it is not taken now, or null.</summary>
    public Refusal? WhyNotSample(SamplePurpose purpose, Instant at, Instant? lastDisinfectedAt) =>
        WhyNotRunning()
        ?? (purpose == SamplePurpose.Repeat && Way != "iii" ? new Refusal("not-this-way", "Repeat samples belong to way iii of a coliform-positive routine sample. Choose that way first.") : null)
        ?? (purpose == SamplePurpose.FollowUp && HasWays && Way is not ("i" or "ii") ? new Refusal("not-this-way", "Follow-up samples belong to the ways i and ii. Choose one of them first.") : null)
        ?? (purpose == SamplePurpose.Repeat && at > ToldAt + ToRepeat ? new Refusal("missed-repeats", "Repeat samples are collected within 24 hours. They were missed: open that case, it restricts access (141.803(g), (c)(3)(ii)).") : null)
        ?? (at < ToldAt ? new Refusal("sampled-before", "The sample was collected before the case began. Check the time.") : null)
        ?? (purpose == SamplePurpose.FollowUp && (lastDisinfectedAt is not { } done || done < ToldAt) ? new Refusal("not-disinfected", "Follow-up samples are taken after the disinfection and flushing that the event asks for. Enter that first.") : null);

    /// <summary>Its repeat samples are collected: now their results decide. Null: those that were are taken out, and none counts.</summary>
    public void TakeRepeats(Instant? at) => RepeatsAt = at;

    /// <summary>Why access cannot be given back yet, or null.</summary>
    /// <param name="disinfectedAt">The last disinfection and flushing since the event.</param>
    /// <param name="followUp">The newest follow-up set for it that counts.</param>
    public Refusal? WhyNotLift(Instant? disinfectedAt, SampleSet? followUp) =>
        WhyNotRunning()
        ?? (HasWays && Way.Length == 0 ? new Refusal("no-way", "Choose first which of the ways is gone.") : null)
        ?? (Way == "iii" ? new Refusal("repeats-decide", "The repeat samples decide: all negative ends it, a positive one starts its own actions.") : null)
        ?? WaterRule.WhyNotLift(Kind, disinfectedAt >= ToldAt ? disinfectedAt : null, followUp?.CollectedAt, followUp?.IsNegative);

    /// <summary>Gives access back. The signature stands with whoever calls.</summary>
    public Decision Lift(Instant? disinfectedAt, SampleSet? followUp, Actor by, Instant now) =>
        WhyNotLift(disinfectedAt, followUp) is { } no ? no : End("Lifted: the rule's condition holds.", by.Name, now, "water.lifted", "Drinking water: access is given back.");

    /// <summary>All three repeats are negative: routine monitoring goes on.</summary>
    public Decision EndByRepeats(Actor by, Instant now) =>
        (WhyNotRunning() ?? (Way == "iii" ? null : new Refusal("not-this-way", "Another way is gone: repeats do not end it."))) is { } no ? no : End("All repeat samples are negative: routine monitoring goes on.", by.Name, now, "water.case-ended", "Drinking water: all repeat samples are negative.");

    /// <summary>A new case asks for more, and takes its place; what was restricted and noticed stays so.</summary>
    public Decision GiveWayTo(WaterCase other, Actor by, Instant now)
    {
        if (WhyNotRunning() is { } no)
        {
            return no;
        }

        other.Done = [.. other.Done, .. Done.Where(step => step.Act != WaterAct.Report && other.Done.All(own => own.Act != step.Act))];
        return End($"\"{other.Kind.Words()}\" took its place.", by.Name, now, "water.case-ended", "Drinking water: another case takes this one's place.");
    }

    private Fact End(string why, string by, Instant now, string kind, string words)
    {
        (EndedAt, EndedBy, EndedWhy) = (now, by, why);
        return new Fact(ChainKey.For(Tail), kind, Tail.Value, words).With("case", Id.Value).With("why", why);
    }

    private Refusal? WhyNotRunning() => IsRunning ? null : new Refusal("case-ended", $"This case has ended. {EndedWhy}");
}
