using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Hosting;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Reliability;

/// <summary>Who stands out, and why one fixture comes back.</summary>
internal static class RepeatsApi
{
    private const int UsualLines = 100;

    public static void MapRepeats(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Repeats");
        group.MapGet("/repeats", Read).Needs(Act.Look).WithSummary("The newest snapshot: fixtures and places with write-ups, the worst first by what is all but certain of them. Filters: layout, kind, family, scope (fixture, place), tail, flagged; lines (up to 1,000)");
        group.MapGet("/repeats.csv", Csv).Needs(Act.Look).Produces(200, contentType: "text/csv").WithSummary("The same as CSV, with the same filters");
        group.MapGet("/repeats.svg", Svg).Needs(Act.Look).Produces<string>(200, "image/svg+xml").WithSummary("Their rates with exact limits as a plot, with the same filters");
        group.MapPost("/repeats/snapshots", Make).Needs(Act.WorkOutStandings).ProducesProblem(409).WithSummary("Judge every write-up and work out everybody's standing anew; one is made each day by itself. Close the connection to give it up");
        var places = api.MapGroup("/repeats/places/{layout}/{position}").WithTags("Repeats");
        places.MapGet("", Place).Needs(Act.Look).ProducesProblem(404).WithSummary("What was found at one place of a layout over all its tails: standing, trend, against like places, on which tails. on (yyyy-MM-dd, UTC): before and after that day");
        places.MapGet("/csv", PlaceCsv).Needs(Act.Look).Produces(200, contentType: "text/csv").ProducesProblem(404).WithSummary("The same as CSV");
        places.MapGet("/svg", PlaceSvg).Needs(Act.Look).Produces<string>(200, "image/svg+xml").ProducesProblem(404).WithSummary("Its cumulative findings a tail against like places, as a plot");
        var fixture = api.MapGroup("/tails/{registration}/fixtures/{position}").WithTags("Repeats");
        fixture.MapGet("/repeats", One).Needs(Act.Look).ProducesProblem(404).WithSummary("One fixture's write-ups of one kind: standing, trend, its fleet, what was tried and how long it lasted. family may be left out");
        fixture.MapGet("/repeats.csv", OneCsv).Needs(Act.Look).Produces(200, contentType: "text/csv").ProducesProblem(404).WithSummary("The same as CSV");
        fixture.MapGet("/repeats.svg", OneSvg).Needs(Act.Look).Produces<string>(200, "image/svg+xml").ProducesProblem(404).WithSummary("Its cumulative write-ups against its fleet's mean with its band, as a plot");
    }

    private static async Task<Ok<RepeatsView>> Read(RepeatsQuery query, CancellationToken stop, string? layout = null, string? kind = null, string? family = null, string? scope = null, string? tail = null, string? flagged = null, int? lines = null) =>
        TypedResults.Ok(await query.ReadAsync(RepeatsFilter.Of(layout, kind, family, scope, tail, flagged), lines ?? UsualLines, stop));

    private static async Task<FileContentHttpResult> Csv(RepeatsQuery query, CancellationToken stop, string? layout = null, string? kind = null, string? family = null, string? scope = null, string? tail = null, string? flagged = null) =>
        CsvText.File("repeats.csv", ReliabilityCsv.Of(await query.ReadAsync(RepeatsFilter.Of(layout, kind, family, scope, tail, flagged), RepeatsQuery.Most, stop)));

    private static async Task<IResult> Svg(RepeatsQuery query, HttpContext http, CancellationToken stop, string? layout = null, string? kind = null, string? family = null, string? scope = null, string? tail = null, string? flagged = null) =>
        await SvgFile.OfAsync<RatesPlot>(await query.ReadAsync(RepeatsFilter.Of(layout, kind, family, scope, tail, flagged), RatesPlot.Most, stop), http);

    private static async Task<Results<Created<SnapshotView>, ProblemHttpResult>> Make(StandingsMaker maker, CancellationToken stop) =>
        await maker.RunAsync(null, stop) is { } made
            ? TypedResults.Created("/api/v1/repeats", SnapshotView.Of(made))
            : AnswerHttp.Problem(409, "Made elsewhere", "Another process has just made one. Read it instead.", "made-elsewhere");

    private static async Task<Results<Ok<FixtureRepeats>, ProblemHttpResult>> One(string registration, string position, FixtureRepeatsQuery query, CancellationToken stop, string? family = null) =>
        await FindAsync(registration, position, family, query, stop) is { } view ? TypedResults.Ok(view) : Missing(registration, position);

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> OneCsv(string registration, string position, FixtureRepeatsQuery query, CancellationToken stop, string? family = null) =>
        await FindAsync(registration, position, family, query, stop) is { } view ? CsvText.File($"repeats-{view.Tail}-{view.Position}.csv", ReliabilityCsv.Of(view)) : Missing(registration, position);

    private static async Task<IResult> OneSvg(string registration, string position, FixtureRepeatsQuery query, HttpContext http, CancellationToken stop, string? family = null) =>
        await FindAsync(registration, position, family, query, stop) is { } view ? await SvgFile.OfAsync<CumulativePlot>(CumulativeView.Of(view), http) : Missing(registration, position);

    private static async Task<FixtureRepeats?> FindAsync(string registration, string position, string? family, FixtureRepeatsQuery query, CancellationToken stop) =>
        Registration.TryParse(registration, out var mark) && Position.TryParse(position, out var at) ? await query.ReadAsync(mark, at, Asked.Name<SymptomFamily>(family), stop) : null;

    private static async Task<Results<Ok<PlaceRepeats>, ProblemHttpResult>> Place(string layout, string position, PlaceRepeatsQuery query, CancellationToken stop, string? on = null) =>
        await FindPlaceAsync(layout, position, on, query, stop) is { } view ? TypedResults.Ok(view) : MissingPlace(layout, position);

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> PlaceCsv(string layout, string position, PlaceRepeatsQuery query, CancellationToken stop) =>
        await FindPlaceAsync(layout, position, null, query, stop) is { } view ? CsvText.File($"found-{view.Layout}-{view.Position}.csv", ReliabilityCsv.Of(view)) : MissingPlace(layout, position);

    private static async Task<IResult> PlaceSvg(string layout, string position, PlaceRepeatsQuery query, HttpContext http, CancellationToken stop) =>
        await FindPlaceAsync(layout, position, null, query, stop) is { } view ? await SvgFile.OfAsync<CumulativePlot>(CumulativeView.Of(view), http) : MissingPlace(layout, position);

    private static async Task<PlaceRepeats?> FindPlaceAsync(string layout, string position, string? on, PlaceRepeatsQuery query, CancellationToken stop) =>
        Position.TryParse(position, out var at) ? await query.ReadAsync(layout, at, Asked.Day(on), stop) : null;

    private static ProblemHttpResult MissingPlace(string layout, string position) => AnswerHttp.Problem(404, "Not found", $"Layout \"{layout}\" has no place \"{position}\".", "not-found");

    private static ProblemHttpResult Missing(string registration, string position) => AnswerHttp.Problem(404, "Not found", $"There is no fixture \"{position}\" on \"{registration}\".", "not-found");
}
