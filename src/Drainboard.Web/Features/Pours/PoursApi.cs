using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Drainboard.Web.Features.Pours;

internal static class PoursApi
{
    public static void MapPours(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("/tails/{registration}/fixtures/{position}").WithTags("Pours");
        group.MapGet("/pours", Read).Needs(Act.Look).ProducesProblem(404).WithSummary("Timed pours of a fixture, what is confirmed before one, and where its openness is heading");
        group.MapGet("/pours.svg", Plot).Needs(Act.Look).Produces<string>(200, "image/svg+xml").ProducesProblem(404).WithSummary("The same as a plot");
        api.MapPost("/pours/{id:guid}/withdrawal", Withdraw).Needs(Act.WithdrawPour).ProducesProblem(404).ProducesProblem(422).WithTags("Pours").WithSummary("Take a pour back as entered in error; it stays on record and is left out of advice and trend");
        group.MapPost("/pours", Record).Needs(Act.RecordPour).ProducesProblem(404).ProducesProblem(422).WithSummary("Record a timed pour; the body's id is the pour's and the idempotency key");
    }

    private static async Task<ChangeResult> Withdraw(Guid id, ReasonRequest request, WithdrawPourHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(NewId.At(http.RequestServices.GetRequiredService<IClock>().GetCurrentInstant())), id, request, stop)).ToHttp(http);

    private static async Task<Results<Ok<PoursView>, ProblemHttpResult>> Read(string registration, string position, PoursQuery query, CancellationToken stop) =>
        await FindAsync(registration, position, query, stop) is { } view ? TypedResults.Ok(view) : Missing(registration, position);

    private static async Task<IResult> Plot(string registration, string position, PoursQuery query, HttpContext http, CancellationToken stop) =>
        await FindAsync(registration, position, query, stop) is { } view ? await SvgFile.OfAsync<DrainPlot>(view, http) : Missing(registration, position);

    private static async Task<ChangeResult> Record(string registration, string position, RecordPourRequest request, RecordPourHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), registration, position, request, stop)).ToHttp(http, $"/api/v1/tails/{registration}/fixtures/{position}/pours");

    private static async Task<PoursView?> FindAsync(string registration, string position, PoursQuery query, CancellationToken stop) =>
        Registration.TryParse(registration, out var mark) && Position.TryParse(position, out var at) ? await query.ReadAsync(mark, at, stop) : null;

    private static ProblemHttpResult Missing(string registration, string position) => AnswerHttp.Problem(404, "Not found", $"There is no fixture \"{position}\" on \"{registration}\".", "not-found");
}
