using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.OnBoard;
using Drainboard.Web.Features.Paper;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Fleet;

internal static class FleetApi
{
    public static void MapFleet(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Fleet");
        group.MapGet("/stations", Stations).Needs(Act.Look).OpenToGuests().WithSummary("Stations");
        group.MapGet("/layouts", Layouts).Needs(Act.Look).OpenToGuests().WithSummary("Cabin layouts, every version, with fixtures and plumbing");
        group.MapPut("/layouts/{code}", Draw).Needs(Act.ManageLayouts).Changes().WithSummary("Make the next version of a layout (If-Match: the version seen, or If-None-Match: * for a new one); refused while its drawing is not sound");
        group.MapGet("/tails", Tails).Needs(Act.Look).WithSummary("The fleet");
        group.MapGet("/tails/{registration}", OneTail).Needs(Act.Look).WithSummary("One tail: what is open and deferred, its next turns, its fixtures");
        group.MapGet("/tails/{registration}/report-codes.pdf", ReportCards).Needs(Act.Look).ProducesProblem(404).Produces(200, contentType: "application/pdf").WithSummary("Codes for the crew's folder that lead to each fixture's report page, a sheet for each part of the cabin; area=one of them, size=A4 or Letter");
        group.MapGet("/tails/{registration}/fixtures/{position}", OneFixture).Needs(Act.Look).WithSummary("One fixture: what it drains into, what shares its drain, its history and repeats");
    }

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> ReportCards(string registration, TailQuery query, HttpContext http, CancellationToken stop, string? area = null, string? size = null)
    {
        var view = Registration.TryParse(registration, out var mark) ? await query.ReadAsync(mark, stop) : null;
        var areas = view?.Areas.Where(one => area is null || one.Name.Equals(area, StringComparison.OrdinalIgnoreCase)).ToArray() ?? [];
        return areas.Length == 0
            ? AnswerHttp.Problem(404, "Not found", $"There is no such tail, or no area \"{area}\" in its cabin.", "not-found")
            : TypedResults.File(ReportCardsPaper.Write(view!.Registration, areas, $"{http.Request.Scheme}://{http.Request.Host}", PaperSizes.Parse(size)), "application/pdf", $"report-codes-{view.Registration}.pdf");
    }

    private static async Task<Ok<IReadOnlyList<StationView>>> Stations(StationsQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<Ok<IReadOnlyList<LayoutView>>> Layouts(LayoutsQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<ChangeResult> Draw(string code, SaveLayoutRequest request, SaveLayoutHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), code, request, stop)).ToHttp(http);

    private static async Task<Ok<IReadOnlyList<TailLine>>> Tails(TailsQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<Results<Ok<TailView>, ProblemHttpResult>> OneTail(string registration, TailQuery query, CancellationToken stop) =>
        Registration.TryParse(registration, out var mark) && await query.ReadAsync(mark, stop) is { } view
            ? TypedResults.Ok(view)
            : AnswerHttp.Problem(404, "Not found", $"There is no tail \"{registration}\".", "not-found");

    private static async Task<Results<Ok<FixtureView>, ProblemHttpResult>> OneFixture(string registration, string position, FixtureQuery query, CancellationToken stop, string? after = null) =>
        Registration.TryParse(registration, out var mark) && Position.TryParse(position, out var at) && await query.ReadAsync(mark, at, after, stop) is { } view
            ? TypedResults.Ok(view)
            : AnswerHttp.Problem(404, "Not found", $"There is no fixture \"{position}\" on \"{registration}\".", "not-found");
}
