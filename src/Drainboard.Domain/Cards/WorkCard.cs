using System.Text.RegularExpressions;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Cards;

/// <summary>
/// One version of the steps of a kind of job. A version never changes once it is published: another text is another version, and a job
/// keeps the one it was begun on.
/// </summary>
public sealed partial class WorkCard
{
    public const int MostSteps = 60;

    private WorkCard()
    {
    }

    public WorkCardId Id { get; private set; }

    /// <summary>Its name for programs: lower-case letters, digits and hyphens, up to 40.</summary>
    public string Code { get; private set; } = "";

    /// <summary>From 1, without gaps.</summary>
    public int Version { get; private set; }

    public string Title { get; private set; } = "";

    /// <summary>The approved data that the work is done to, by reference.</summary>
    public string ManualReference { get; private set; } = "";

    /// <summary>An example to begin from: it says so wherever it shows, until the operator publishes their own.</summary>
    public bool IsExample { get; private set; }

    /// <summary>The kinds of fixture that it is for.</summary>
    public IReadOnlyList<FixtureKind> Kinds { get; private set; } = [];

    /// <summary>The families of symptom that it is the first thing to offer for; empty: offered after others.</summary>
    public IReadOnlyList<SymptomFamily> Families { get; private set; } = [];

    /// <summary>A job without surprises may be told in five answers; a surprise opens the steps.</summary>
    public bool HasShortForm { get; private set; }

    public IReadOnlyList<CardStep> Steps { get; private set; } = [];

    public Instant PublishedAt { get; private set; }

    /// <summary>The version that new jobs begin on. The newest, unless the card was withdrawn.</summary>
    public bool IsCurrent { get; private set; }

    public string VersionWords => $"{Title}, version {Version}{(IsExample ? " (example)" : "")}";

    /// <summary>Publishes a version. On null <paramref name="made"/> is the version to store, and <paramref name="before"/> is no longer current.</summary>
    /// <param name="before">The newest version there is.</param>
    public static Refusal? Publish(WorkCardId id, string code, CardTerms terms, WorkCard? before, Instant now, out WorkCard? made)
    {
        made = null;
        if (!CodeForm().IsMatch(code))
        {
            return new Refusal("card-code", "A card's code is 1 to 40 lower-case letters, digits and hyphens, for example \"sink-strainer\".");
        }

        if ((WhyNot(terms) ?? terms.Steps.Select((step, at) => WhyNot(step, at, terms.Steps)).FirstOrDefault(no => no is not null) ?? WhyNotWhole(terms)) is { } no)
        {
            return no;
        }

        if (before is { IsCurrent: true } && before.Says(terms))
        {
            return new Refusal("card-unchanged", $"Version {before.Version} says just this. Nothing was published.");
        }

        made = new WorkCard
        {
            Id = id, Code = code, Version = (before?.Version ?? 0) + 1, Title = terms.Title.Trim(), ManualReference = terms.ManualReference.Trim(), IsExample = terms.IsExample, Kinds = [.. terms.Kinds.Distinct().Order()],
            Families = [.. terms.Families.Distinct().Order()], HasShortForm = terms.HasShortForm, Steps = terms.Steps, PublishedAt = now, IsCurrent = true,
        };
        before?.Withdraw();
        return null;
    }

    public void Withdraw() => IsCurrent = false;

    public CardStep? Find(string key) => Steps.FirstOrDefault(step => step.Key == key);

    public int NumberOf(CardStep step) => Steps.TakeWhile(other => other != step).Count() + 1;

    /// <summary>What a later version changes for a job begun on this one, in words.</summary>
    public IReadOnlyList<string> ChangesTo(WorkCard later) =>
    [
        .. later.ManualReference == ManualReference ? [] : new[] { $"The manual reference is now {later.ManualReference}." },
        .. later.Steps.Where(step => Find(step.Key) is null).Select(step => $"New: {step.Words}"),
        .. later.Steps.Where(step => Find(step.Key) is { } mine && mine != step).Select(step => $"Changed: {step.Words}"),
        .. Steps.Where(step => later.Find(step.Key) is null).Select(step => $"No longer: {step.Words}"),
    ];

    private bool Says(CardTerms terms) =>
        (Title, ManualReference, IsExample, HasShortForm) == (terms.Title.Trim(), terms.ManualReference.Trim(), terms.IsExample, terms.HasShortForm)
        && Kinds.ToHashSet().SetEquals(terms.Kinds) && Families.ToHashSet().SetEquals(terms.Families) && Steps.SequenceEqual(terms.Steps);

    private static Refusal? WhyNot(CardTerms terms) =>
        terms.Title.Trim().Length is 0 or > 80
            ? new Refusal("card-title", "Give the card a title of up to 80 characters: the job in a few words.")
        : terms.ManualReference.Trim().Length is 0 or > 80
            ? new Refusal("no-manual-reference", "Enter the reference of the approved manual that the work is done to (up to 80 characters).")
        : terms.Kinds.Count == 0
            ? new Refusal("card-kinds", "Say for which kinds of fixture the card is.")
        : terms.Steps.Count is 0 or > MostSteps
            ? new Refusal("card-steps", $"A card has 1 to {MostSteps} steps.")
        : null;

    private static Refusal? WhyNot(CardStep step, int at, IReadOnlyList<CardStep> steps) =>
        !KeyForm().IsMatch(step.Key) || steps.Take(at).Any(other => other.Key == step.Key)
            ? new Refusal("step-key", $"Step {at + 1}: its key \"{step.Key}\" is 1 to 24 letters, digits and hyphens, and stands once in the card.")
        : step.Words.Trim().Length is 0 or > 400 || step.Caution.Length > 400
            ? new Refusal("step-words", $"Step {at + 1}: say what to do, in up to 400 characters; the same for the caution.")
        : (step.Check == StepCheck.Measurement) != (step.Measure is not null)
            ? new Refusal("step-measure", $"Step {at + 1}: a measurement has a unit and limits, and nothing else has.")
        : step.Measure is { } measure && (measure.Unit.Trim().Length is 0 or > 16 || measure.Low > measure.High)
            ? new Refusal("step-measure", $"Step {at + 1}: the unit has 1 to 16 characters, and the lower limit does not lie above the upper one.")
        : step.Disturbs is { } what && what.Words.Trim().Length is 0 or > 80
            ? new Refusal("step-disturbs", $"Step {at + 1}: say in up to 80 characters what it disturbs.")
        : step.Restores is { } key && steps.Take(at).All(other => other.Key != key || other.Disturbs is null)
            ? new Refusal("step-restores", $"Step {at + 1} restores \"{key}\", but no earlier step of that key disturbs anything.")
        : null;

    private static Refusal? WhyNotWhole(CardTerms terms) =>
        terms.HasShortForm && (terms.Steps.All(step => step.Check != StepCheck.OpsCheck) || terms.Steps.All(step => step.Check != StepCheck.LeakCheck))
            ? new Refusal("card-short-form", "The short form asks whether it works and whether it is dry, so the card has an ops check and a leak check among its steps.")
        : terms.HasShortForm && terms.Steps.Any(step => step.SecondPerson || step.Check is StepCheck.Measurement or StepCheck.Photo)
            ? new Refusal("card-short-form", "A card with a required inspection, a measurement or a photo is done step by step, so it has no short form.")
        : null;

    [GeneratedRegex("^[a-z0-9][a-z0-9-]{0,39}$")]
    private static partial Regex CodeForm();

    [GeneratedRegex("^[A-Za-z0-9-]{1,24}$")]
    private static partial Regex KeyForm();
}
