using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.OnBoard;

internal static class CabinApi
{
    public static void MapCabin(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Cabin");
        group.MapGet("/cabin", Fleet).Needs(Act.Look).OpenToGuests().WithSummary("Every cabin that the asker may report on: layouts with their fixtures and notes, and which tail has which");
        group.MapGet("/cabin/{registration}", Now).Needs(Act.Look).ProducesProblem(404).OpenToGuests().WithSummary("What is known of one tail's fixtures now: what may be used, what is carried, what was seen before");
        group.MapPut("/layouts/{layout}/crew-note", Note).Needs(Act.NoteForCrew).ProducesProblem(404).ProducesProblem(422).WithSummary("Write what crew are told about one part of a layout's cabin");
    }

    private static async Task<Ok<CabinFleet>> Fleet(CabinFleetQuery query, HttpContext http, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(http.Actor(), stop));

    private static async Task<Results<Ok<CabinNow>, ProblemHttpResult>> Now(string registration, CabinNowQuery query, HttpContext http, CancellationToken stop) =>
        Registration.TryParse(registration, out var mark) && (http.Actor().OnlyTail is not { } only || only == mark) && await query.ReadAsync(mark, stop) is { } view
            ? TypedResults.Ok(view)
            : AnswerHttp.Problem(404, "Not found", $"There is no tail \"{registration}\" for you here.", "not-found");

    private static async Task<ChangeResult> Note(string layout, WriteCrewNoteRequest request, WriteCrewNoteHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), layout, request, stop)).ToHttp(http);
}
