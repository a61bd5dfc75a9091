using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Cards;

internal static class CardsApi
{
    public static void MapCards(this IEndpointRouteBuilder api)
    {
        var cards = api.MapGroup("/work-cards").WithTags("Work cards");
        cards.MapGet("", Cards).Needs(Act.Look).OpenToGuests().WithSummary("The current version of every work card, with how long its jobs usually take");
        cards.MapGet("/{code}", Card).Needs(Act.Look).ProducesProblem(404).OpenToGuests().WithSummary("Every version of one card, newest first");
        cards.MapPut("/{code}", Save).Needs(Act.ManageCards).Changes().WithSummary("Publish a card (If-None-Match: *) or its next version (If-Match with the newest); jobs that run keep theirs and are told");
        cards.MapDelete("/{code}", Withdraw).Needs(Act.ManageCards).Changes().WithSummary("Take a card out of use (If-Match with its version); it stays readable");

        api.MapGet("/parts", Parts).Needs(Act.Look).WithTags("Work cards").WithSummary("Parts fitted without a release certificate with their clocks, and parts awaited; tail narrows it to one aircraft");

        // Adding to a job needs no version seen: two technicians at one card add side by side. The body's id is the idempotency key.
        var item = api.MapGroup("/defects/{id:guid}").WithTags("Work cards");
        item.MapPost("/taking", Take).Needs(Act.TakeItem).ProducesProblem(422).WithSummary("\"I have it\", or let it go again");
        item.MapGet("/job", Read).Needs(Act.Look).ProducesProblem(404).WithSummary("The job that runs on the item, or whose work waits for its release");
        item.MapPost("/job", Start).Needs(Act.DoJob).ProducesProblem(422).WithSummary("Begin on a work card");
        item.MapPost("/job/steps/{step}", Step).Needs(Act.DoJob).ProducesProblem(422).WithSummary("Record a step; the same step twice counts once");
        item.MapPost("/job/version", GoOn).Needs(Act.DoJob).ProducesProblem(422).WithSummary("Go on with the card's current version; steps that stay the same keep what was recorded");
        item.MapPost("/job/leaving", Leave).Needs(Act.DoJob).ProducesProblem(422).WithSummary("Leave the card without finishing");
        item.MapPost("/job/inspections/{step}", Inspect).Needs(Act.InspectStep).ProducesProblem(422).WithSummary("Sign a required inspection, as a person who did none of the work");
        item.MapPost("/job/completion", Finish).Needs(Act.RecordWork).ProducesProblem(422).WithSummary("Finish the card: its steps become the work done, which waits for its release");
        item.MapPost("/disturbed", Disturb).Needs(Act.NoteDisturbed).ProducesProblem(422).WithSummary("Note something put out of its usual state: breaker, valve, panel, tag, cloth, tool");
        item.MapPost("/disturbed/{thing:guid}", Settle).Needs(Act.NoteDisturbed).ProducesProblem(422).WithSummary("It is restored, or left so for a deferral");
        item.MapPost("/parts", Part).Needs(Act.NotePart).ProducesProblem(422).WithSummary("Note a part or consumable, awaited or fitted");
        item.MapPost("/parts/{part:guid}", ChangePart).Needs(Act.NotePart).ProducesProblem(422).WithSummary("It came, its certificate arrived, or it is gone again");
    }

    private static async Task<Ok<IReadOnlyList<FleetPart>>> Parts(PartsQuery query, CancellationToken stop, string? tail = null) =>
        TypedResults.Ok(tail is null ? await query.ReadAsync(null, stop) : Registration.TryParse(tail, out var mark) ? await query.ReadAsync(mark, stop) : []);

    private static async Task<Ok<IReadOnlyList<CardView>>> Cards(CardsQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<Results<Ok<IReadOnlyList<CardView>>, ProblemHttpResult>> Card(string code, CardsQuery query, CancellationToken stop) =>
        await query.ReadAsync(code, stop) is { Count: > 0 } versions ? TypedResults.Ok(versions) : AnswerHttp.Problem(404, "Not found", $"There is no work card \"{code}\".", "not-found");

    private static async Task<ChangeResult> Save(string code, SaveCardRequest request, SaveCardHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing() with { Command = request.Id }, code, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Withdraw(string code, WithdrawCardHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), code, stop)).ToHttp(http);

    private static async Task<Results<Ok<JobView>, ProblemHttpResult>> Read(Guid id, JobQuery query, CancellationToken stop) =>
        await query.ReadAsync(new DefectId(id), stop) is { } job ? TypedResults.Ok(job) : AnswerHttp.Problem(404, "Not found", "No work card runs on this item.", "not-found");

    private static async Task<ChangeResult> Take(Guid id, TakeItemRequest request, TakeItemHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Start(Guid id, StartJobRequest request, StartJobHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Step(Guid id, string step, RecordStepRequest request, RecordStepHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), new DefectId(id), step, request, null, stop)).ToHttp(http);

    private static async Task<ChangeResult> GoOn(Guid id, GoOnRequest request, GoOnHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Leave(Guid id, LeaveJobRequest request, LeaveJobHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Inspect(Guid id, string step, InspectStepRequest request, InspectStepHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), new DefectId(id), step, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Finish(Guid id, FinishJobRequest request, FinishJobHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Disturb(Guid id, NoteDisturbedRequest request, NoteDisturbedHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Settle(Guid id, Guid thing, SettleDisturbedRequest request, SettleDisturbedHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), new DefectId(id), thing, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Part(Guid id, PartRequest request, NotePartHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> ChangePart(Guid id, Guid part, PartRequest request, ChangePartHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), new DefectId(id), part, request, stop)).ToHttp(http);
}
