using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Hosting;
using NodaTime;

namespace Drainboard.Web.Features.Cards;

/// <summary>The five answers of a job without surprises; found and where stand beside them.</summary>
/// <param name="Refitted">Everything opened is closed as the manual says, nothing is left inside.</param>
/// <param name="WhyNoPour">On a repeat: why no pour was timed, where none was.</param>
public sealed record ShortAnswers(bool Refitted, bool Flows, bool Dry, string? WhyNoPour = null);

/// <param name="Id">The work's id, made on the device; the idempotency key.</param>
/// <param name="CompletedAt">As a person entered it; left out: <paramref name="DoneAt"/>.</param>
/// <param name="DoneAt">When it was sent off, by the device: not before the last step, and not after it is received. Left out: now.</param>
/// <param name="Minutes">Hands-on time; left out: since the job began.</param>
/// <param name="Words">Anything to add to the description, in own words.</param>
/// <param name="ShortForm">The short form's answers; left out where the card was done step by step.</param>
public sealed record FinishJobRequest(Guid Id, Found Found, string FoundAt, Instant? CompletedAt = null, int? Minutes = null, string? Words = null, ShortAnswers? ShortForm = null, Instant? DoneAt = null);

/// <summary>Finishes a job: the card's steps become the work done, which then waits for its release.</summary>
public sealed class FinishJobHandler(ItemDoor door)
{
    /// <summary>A job that stood open longer than this was not hands-on all the time: nobody's time is guessed then.</summary>
    private static readonly Duration LongestMeasured = Duration.FromHours(4);

    /// <summary>People enter whole minutes.</summary>
    private static readonly Duration OneMinute = Duration.FromMinutes(1);

    public Task<Answer> HandleAsync(Call call, DefectId id, FinishJobRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.RecordWork, id, request, item => FinishAsync(item, request), stop);

    private static async Task<Decision> FinishAsync(Item item, FinishJobRequest request)
    {
        var (attempt, db, stop) = (item.Attempt, item.Attempt.Db, item.Attempt.Stop);
        if (Lifecycle.WhyNot(item.Defect.State, Act.RecordWork) is { } no)
        {
            return no;
        }

        if (await OpenJob.RunningOnAsync(db, item.Defect.Id, stop) is not { } open)
        {
            return NoJob.Refusal;
        }

        if (!Position.TryParse(request.FoundAt, out var foundAt))
        {
            return new Refusal("no-such-position", "Say where it was found: choose a fixture from the list.");
        }

        var pour = await ProvingPour.FindAsync(db, item.Defect.Id, open.Job.StartedAt, stop);
        if ((open.Job.WhyNotFinish(item.Defect, open.Card, open.Current, open.Steps, request.ShortForm is not null) ?? WhyNotShort(item, open, request, pour)) is { } refused)
        {
            return refused;
        }

        var rows = Job.Counting(open.Card, open.Steps);
        var last = rows.Select(row => row.At).DefaultIfEmpty(open.Job.StartedAt).Max();
        var completed = MicrosecondClock.Cut(request.CompletedAt ?? Instant.Max(last, Instant.Min(request.DoneAt ?? attempt.Now, attempt.Now)));
        if (completed < last - OneMinute)
        {
            return new Refusal("completed-too-early", $"The last step was recorded at {last.InZone(item.Zone):HH:mm}, after the time of completion that you entered. Enter when the work was finished, its checks included.");
        }

        var took = completed - open.Job.StartedAt;
        var minutes = request.Minutes ?? (took > Duration.Zero && took < LongestMeasured ? (int)Math.Ceiling(took.TotalMinutes) : null);
        var card = new CardWork(open.Job.Id, open.Card.Code, open.Card.Version, open.Card.Title, open.Job.StartedAt);
        var left = (await OpenJob.UnsignedOnAsync(db, item.Defect.Id, stop)).Where(job => job.Job.Id != open.Job.Id && job.Card.Code != open.Card.Code);
        var (ops, leak) = request.ShortForm is { } answers ? Checks(answers, pour, attempt.Actor, attempt.Now) : (Job.CheckOf(open.Card, open.Steps, StepCheck.OpsCheck), Job.CheckOf(open.Card, open.Steps, StepCheck.LeakCheck));
        var terms = new WorkTerms(request.Found, foundAt, open.Card.ManualReference, Steps(open.Card, rows, request, attempt.Actor.Person), completed, minutes, ops, leak, card) { OutOfLimits = [.. Job.OutOfLimits(open.Card, open.Steps), .. left.SelectMany(job => Job.OutOfLimits(job.Card, job.Steps))] };
        var decision = WorkDone.Record(new RectificationId(request.Id), item.Defect, item.Layout, terms, attempt.Actor, attempt.Now, out var made);
        if (made is not null)
        {
            db.Add(made);
            open.Job.Finish(attempt.Now);
        }

        return decision;
    }

    private static Refusal? WhyNotShort(Item item, OpenJob open, FinishJobRequest request, Pour? pour) => request.ShortForm is not { } answers ? null
        : !open.Card.HasShortForm
            ? new Refusal("no-short-form", $"\"{open.Card.Title}\" is done step by step.")
        : answers is not { Refitted: true, Flows: true, Dry: true } || request.Found is Found.FailedPart or Found.Nothing
            ? new Refusal("surprise", "That is a surprise, and the short form is for jobs without one. Go step by step; what you found and where is kept.")
        : item.Defect.Leak == LeakAnswer.Leaking
            ? new Refusal("surprise", "This item leaks, and a leak is never just a slow drain. Go step by step.")
        : Job.Counting(open.Card, open.Steps).Any(row => row.Result != StepResult.Good)
            ? new Refusal("surprise", "A step of this card was recorded as not as it should be, or as not applying here. Go step by step.")
        : pour is { Result: PourResult.Slow }
            ? new Refusal("slow-pour", "The pour after the work was slow. Go step by step and say what the drain does, or find what still blocks it.")
        : item.Defect.Repeat is not null && pour is null && string.IsNullOrWhiteSpace(answers.WhyNoPour) && PourQuestions.WhyNotAt(item.Layout, item.Defect.Position) is null
            ? new Refusal("pour-asked", "This one keeps coming back, so a timed pour is asked for: time one, or say why not.")
        : answers.WhyNoPour?.Length > 200
            ? new Refusal("too-long", "Say in up to 200 characters why no pour was timed.")
        : null;

    private static (Check Ops, Check Leak) Checks(ShortAnswers answers, Pour? pour, Actor by, Instant now) =>
        (new Check(answers.Flows, pour is null ? string.IsNullOrWhiteSpace(answers.WhyNoPour) ? "" : $"No pour timed: {answers.WhyNoPour.Trim()}" : ProvingPour.Words(pour), by.Name, now), new Check(answers.Dry, "", by.Name, now));

    private static string[] Steps(WorkCard card, IReadOnlyList<JobStep> rows, FinishJobRequest request, PersonId performer) =>
    [
        $"Work card {card.VersionWords}{(request.ShortForm is null ? "" : ", done without surprises: opened, cleaned and closed again as the manual says, nothing left inside")}.",
        .. rows.Select(row => $"{Job.Tell(card, row, performer)}."),
        .. string.IsNullOrWhiteSpace(request.Words) ? [] : new[] { request.Words.Trim() },
    ];
}
