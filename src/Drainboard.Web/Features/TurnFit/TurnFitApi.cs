using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.TurnFit;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.TurnFit;

internal static class TurnFitApi
{
    public static void MapTurnFit(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Turn fit");
        group.MapGet("/defects/{id:guid}/fit", Read).Needs(Act.Look).ProducesProblem(404).WithSummary("Whether an item fits its aircraft's stay: usable and total minutes, the chance, what it rests on, and what deferral would cost");
        group.MapGet("/defects/{id:guid}/fit.svg", Svg).Needs(Act.Look).Produces<string>(200, "image/svg+xml").ProducesProblem(404).WithSummary("The chance of being done by the minute, as a plot");
        group.MapGet("/fit-terms", Terms).Needs(Act.Look).WithSummary("What turn fit goes by: windows, reserves and weights");
        group.MapPut("/fit-terms", Change).Needs(Act.ChangeFit).Changes().WithSummary("Change them; a member left out takes its usual value");
    }

    private static async Task<Results<Ok<FitDetail>, ProblemHttpResult>> Read(Guid id, FitQuery query, CancellationToken stop) =>
        await query.ReadAsync(new DefectId(id), stop) is { } view ? TypedResults.Ok(view) : Missing();

    private static async Task<IResult> Svg(Guid id, FitQuery query, HttpContext http, CancellationToken stop) =>
        await query.ReadAsync(new DefectId(id), stop) is { } view ? await SvgFile.OfAsync<FitPlot>(view, http) : Missing();

    private static async Task<Ok<FitTerms>> Terms(FitTermsQuery query, HttpContext http, CancellationToken stop)
    {
        var (terms, version) = await query.ReadAsync(stop);
        http.Response.Headers.ETag = AnswerHttp.Tag(version);
        return TypedResults.Ok(terms);
    }

    private static async Task<ChangeResult> Change(FitTerms terms, ChangeFitHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), terms, stop)).ToHttp(http);

    private static ProblemHttpResult Missing() => AnswerHttp.Problem(404, "Not found", "There is no such open item, or no stay of its aircraft is known.", "not-found");
}
