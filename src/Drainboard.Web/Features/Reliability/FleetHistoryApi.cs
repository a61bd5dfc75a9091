using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Hosting;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Reliability;

/// <summary>What a fleet's history says: causes, months, changes, when to clean, what to keep.</summary>
internal static class FleetHistoryApi
{
    public static void MapFleetHistory(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("/repeats").WithTags("Repeats");
        group.MapGet("/causes", Causes).Needs(Act.Look).WithSummary("What was found, counted by: found, place, galley, layout, route, hour or month. Filters: layout, kind, family, days; with what crew could keep out of each galley's drains");
        group.MapGet("/causes.csv", CausesCsv).Needs(Act.Look).Produces(200, contentType: "text/csv").WithSummary("The same as CSV");
        group.MapGet("/causes.svg", CausesSvg).Needs(Act.Look).Produces<string>(200, "image/svg+xml").WithSummary("The same as a plot");
        group.MapGet("/months", Months).Needs(Act.Look).WithSummary("The last thirteen whole months against their own year before. Filters: layout, kind, family; method (exactPoisson, meanAndDeviations, meanTimesOnePointThree)");
        group.MapGet("/months.csv", MonthsCsv).Needs(Act.Look).Produces(200, contentType: "text/csv").WithSummary("The same as CSV");
        group.MapGet("/months.svg", MonthsSvg).Needs(Act.Look).Produces<string>(200, "image/svg+xml").WithSummary("The same as a plot");
        group.MapGet("/change", Change).Needs(Act.Look).ProducesProblem(400).ProducesProblem(422).WithSummary("A part of the fleet as long before a day as after it, as a rate ratio with its exact interval. on (yyyy-MM-dd, UTC); filters: layout, kind, family, days");
        group.MapGet("/cleaning", Cleaning).Needs(Act.Look).ProducesProblem(400).ProducesProblem(404).WithSummary("How long a layout's strainer runs until it blocks, and the cleaning interval of least cost, in days. layout, position, planned and unplanned cost");
        group.MapGet("/cleaning.csv", CleaningCsv).Needs(Act.Look).Produces(200, contentType: "text/csv").ProducesProblem(400).ProducesProblem(404).WithSummary("The ages as CSV");
        group.MapGet("/cleaning.svg", CleaningSvg).Needs(Act.Look).Produces<string>(200, "image/svg+xml").ProducesProblem(400).ProducesProblem(404).WithSummary("The share still free by age, as a plot");
        group.MapGet("/spares", Spares).Needs(Act.Look).ProducesProblem(400).ProducesProblem(404).WithSummary("What to keep of one kind of fixture, from the failed parts found in the last year. kind, days, service");
        group.MapGet("/month.pdf", Paper).Needs(Act.Look).Produces(200, contentType: "application/pdf").WithSummary("The month for the reliability meeting. size=A4 or Letter");
    }

    private static async Task<Ok<CausesView>> Causes(CausesQuery query, CancellationToken stop, string? layout = null, string? kind = null, string? family = null, string? by = null, int? days = null) =>
        TypedResults.Ok(await query.ReadAsync(FleetScope.Of(layout, kind, family), Asked.Name<CauseBy>(by) ?? CauseBy.Found, days ?? CausesQuery.UsualDays, stop));

    private static async Task<FileContentHttpResult> CausesCsv(CausesQuery query, CancellationToken stop, string? layout = null, string? kind = null, string? family = null, string? by = null, int? days = null) =>
        CsvText.File("causes.csv", ReliabilityCsv.Of(await query.ReadAsync(FleetScope.Of(layout, kind, family), Asked.Name<CauseBy>(by) ?? CauseBy.Found, days ?? CausesQuery.UsualDays, stop)));

    private static async Task<IResult> CausesSvg(CausesQuery query, HttpContext http, CancellationToken stop, string? layout = null, string? kind = null, string? family = null, string? by = null, int? days = null) =>
        await SvgFile.OfAsync<ParetoPlot>(await query.ReadAsync(FleetScope.Of(layout, kind, family), Asked.Name<CauseBy>(by) ?? CauseBy.Found, days ?? CausesQuery.UsualDays, stop), http);

    private static async Task<Ok<MonthsView>> Months(MonthsQuery query, CancellationToken stop, string? layout = null, string? kind = null, string? family = null, string? method = null) =>
        TypedResults.Ok(await query.ReadAsync(FleetScope.Of(layout, kind, family), Asked.Name<AlertMethod>(method) ?? AlertMethod.ExactPoisson, stop));

    private static async Task<FileContentHttpResult> MonthsCsv(MonthsQuery query, CancellationToken stop, string? layout = null, string? kind = null, string? family = null, string? method = null) =>
        CsvText.File("months.csv", ReliabilityCsv.Of(await query.ReadAsync(FleetScope.Of(layout, kind, family), Asked.Name<AlertMethod>(method) ?? AlertMethod.ExactPoisson, stop)));

    private static async Task<IResult> MonthsSvg(MonthsQuery query, HttpContext http, CancellationToken stop, string? layout = null, string? kind = null, string? family = null, string? method = null) =>
        await SvgFile.OfAsync<MonthsPlot>(await query.ReadAsync(FleetScope.Of(layout, kind, family), Asked.Name<AlertMethod>(method) ?? AlertMethod.ExactPoisson, stop), http);

    private static async Task<Results<Ok<ChangeView>, ProblemHttpResult>> Change(ChangeQuery query, CancellationToken stop, string? on = null, string? layout = null, string? kind = null, string? family = null, int? days = null)
    {
        if (Asked.Day(on) is not { } day)
        {
            return Bad("on", "Give the day as yyyy-MM-dd.");
        }

        return await query.ReadAsync(FleetScope.Of(layout, kind, family), day, days ?? ChangeQuery.UsualDays, stop) is { } change
            ? TypedResults.Ok(change)
            : AnswerHttp.Problem(422, "Refused", "Nothing was flown before that day or after it. Choose a day in the past, after the fleet began.", "no-exposure");
    }

    private static async Task<Results<Ok<LivesView>, ProblemHttpResult>> Cleaning(LivesQuery query, CancellationToken stop, string? layout = null, string? position = null, double? planned = null, double? unplanned = null)
    {
        var (view, trouble) = await LivesAsync(query, layout, position, planned, unplanned, stop);
        return view is null ? trouble! : TypedResults.Ok(view);
    }

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> CleaningCsv(LivesQuery query, CancellationToken stop, string? layout = null, string? position = null, double? planned = null, double? unplanned = null)
    {
        var (view, trouble) = await LivesAsync(query, layout, position, planned, unplanned, stop);
        return view is null ? trouble! : CsvText.File($"cleaning-{view.Layout}-{view.Position}.csv", ReliabilityCsv.Of(view));
    }

    private static async Task<IResult> CleaningSvg(LivesQuery query, HttpContext http, CancellationToken stop, string? layout = null, string? position = null, double? planned = null, double? unplanned = null)
    {
        var (view, trouble) = await LivesAsync(query, layout, position, planned, unplanned, stop);
        return view is null ? trouble! : await SvgFile.OfAsync<LifePlot>(view, http);
    }

    private static async Task<(LivesView? View, ProblemHttpResult? Trouble)> LivesAsync(LivesQuery query, string? layout, string? position, double? planned, double? unplanned, CancellationToken stop)
    {
        var (cheap, dear) = (planned ?? LivesQuery.UsualPlanned, unplanned ?? LivesQuery.UsualUnplanned);
        if (!(cheap > 0) || !(dear > 0) || !double.IsFinite(cheap + dear))
        {
            return (null, Bad(cheap > 0 && double.IsFinite(cheap) ? "unplanned" : "planned", "A cost is above zero."));
        }

        return Asked.Clean(layout) is { } code && Position.TryParse(position ?? "", out var at) && await query.ReadAsync(code, at, cheap, dear, stop) is { } view
            ? (view, null)
            : (null, AnswerHttp.Problem(404, "Not found", $"No layout \"{layout}\" in service has a strainer \"{position}\".", "not-found"));
    }

    private static async Task<Results<Ok<SparesView>, ProblemHttpResult>> Spares(SparesQuery query, CancellationToken stop, string? kind = null, int? days = null, double? service = null)
    {
        if (Asked.Name<FixtureKind>(kind) is not { } of)
        {
            return Bad("kind", $"Is one of: {string.Join(", ", Enum.GetValues<FixtureKind>().Select(one => Asked.Camel(one)))}.");
        }

        if (days is < 1 or > 3660 || service is <= 0 or >= 1)
        {
            return days is < 1 or > 3660 ? Bad("days", "Is 1 to 3660.") : Bad("service", "Is above 0 and below 1, for example 0.95.");
        }

        return await query.ReadAsync(of, days ?? 90, service ?? 0.95, stop) is { } view ? TypedResults.Ok(view) : AnswerHttp.Problem(404, "Not found", "The fleet has no such fixture.", "not-found");
    }

    private static async Task<FileContentHttpResult> Paper(ReliabilityPaper paper, CancellationToken stop, string? size = null) =>
        TypedResults.File(await paper.WriteAsync(size, stop), "application/pdf", "reliability.pdf");

    private static ProblemHttpResult Bad(string member, string words)
    {
        var faults = new Faults();
        faults.Add(member, words);
        return faults.ToHttp();
    }
}
