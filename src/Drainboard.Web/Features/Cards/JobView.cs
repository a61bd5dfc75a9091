using Drainboard.Domain.Cards;
using Drainboard.Web.Features.Defects;
using NodaTime;

namespace Drainboard.Web.Features.Cards;

/// <summary>A job on an item: its card, its steps with what was recorded, and whether it can go on.</summary>
/// <param name="NewerVersion">The card's current version where that is another one; then <paramref name="Changes"/> says what it changes.</param>
public sealed record JobView(Guid Id, string Code, int Version, string Title, bool IsExample, string ManualReference, bool HasShortForm, string StartedBy, Instant StartedAt, bool IsRunning, bool IsWithdrawn, int? NewerVersion, IReadOnlyList<string> Changes, IReadOnlyList<StepView> Steps, string? Pour)
{
    /// <summary>The page to go on at: the short form while nothing was recorded step by step.</summary>
    public string Page => HasShortForm && Steps.All(step => step.Result is null) ? "card" : "card/steps";

    /// <summary>The first step that nobody has recorded.</summary>
    public StepView? Next => Steps.FirstOrDefault(step => step.Result is null);

    internal static JobView Of(OpenJob open, string? pour)
    {
        var (job, card) = (open.Job, open.Card);
        var newer = open.Current is { } current && current.Id != card.Id ? current : null;
        return new JobView(job.Id.Value, card.Code, card.Version, card.Title, card.IsExample, card.ManualReference, card.HasShortForm, job.StartedByName, job.StartedAt, job.IsRunning, open.Current is null, newer?.Version, newer is null ? [] : card.ChangesTo(newer), [.. card.Steps.Select(step => StepView.Of(card, step, open.Steps))], pour);
    }
}

/// <summary>One step of a card and how it stands in a job.</summary>
/// <param name="Times">How often it was recorded.</param>
/// <param name="Stale">Why a check that was recorded counts for nothing; null while it does.</param>
public sealed record StepView(string Key, int Number, string Words, string Caution, StepCheck Check, StepMeasure? Measure, bool SecondPerson, string? Disturbs, StepResult? Result, string Said, decimal? Value, string? Photo, string? By, Instant? At, int Times, bool AwaitsInspection, SignatureView? Inspection, string? Stale)
{
    internal static StepView Of(WorkCard card, CardStep step, IReadOnlyList<JobStep> rows)
    {
        var last = Job.LastOf(rows, step.Key);
        return new StepView(step.Key, card.NumberOf(step), step.Words, step.Caution, step.Check, step.Measure, step.SecondPerson, step.Disturbs is { } what ? $"{what.Kind.Words()}: {what.Words}" : null, last?.Result, last is null ? "" : Job.Say(step, last), last?.Value, last?.Photo, last?.ByName, last?.At, rows.Count(row => row.Step == step.Key), last is { NeedsInspection: true, Inspection: null }, SignatureView.Of(last?.Inspection), Job.WhyStale(card, rows, step));
    }
}

/// <summary>Something disturbed for the work.</summary>
public sealed record DisturbedView(Guid Id, DisturbedKind Kind, string Words, string By, Instant At, string LeftWords, string RestoredBy, Instant? RestoredAt)
{
    public bool IsRestored => RestoredAt is not null;

    public string Title => $"{Kind.Words()}: {Words}";

    public static DisturbedView Of(DisturbedThing thing) => new(thing.Id.Value, thing.Kind, thing.Words, thing.ByName, thing.At, thing.LeftWords, thing.RestoredBy, thing.RestoredAt);
}

/// <summary>A part or consumable of an item; <paramref name="Clock"/> runs where it was fitted without a release certificate.</summary>
public sealed record PartView(Guid Id, PartState State, string Name, string PartNumber, string Quantity, string Batch, string Certificate, bool NeedsCertificate, string Words, string By, Instant At, PartClock? Clock)
{
    public static PartView Of(Part part, PartClock? clock) => new(part.Id.Value, part.State, part.Name, part.PartNumber, part.Quantity, part.Batch, part.Certificate, part.NeedsCertificate, part.Words, part.ByName, part.At, clock);
}
