using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Isolation;

internal static class AdviceApi
{
    public static void MapAdvice(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Isolation");
        group.MapGet("/tails/{registration}/fixtures/{position}/advice", Read).Needs(Act.Look).ProducesProblem(404).WithSummary("Where to look first at this fixture: what to pour next, what to open in which order, and why");
        group.MapGet("/advice-terms", Terms).Needs(Act.Look).OpenToGuests().WithSummary("The chances, likelihood ratios and minutes that advice goes by");
        group.MapPut("/advice-terms", Change).Needs(Act.ChangeAdvice).Changes().WithSummary("Change them; a member left out takes its usual value");
    }

    private static async Task<Results<Ok<AdviceView>, ProblemHttpResult>> Read([AsParameters] AdvicePlace place, [AsParameters] AdviceAsk ask, AdviceQuery query, CancellationToken stop) =>
        Registration.TryParse(place.Registration, out var mark) && Position.TryParse(place.Position, out var at) && await query.ReadAsync(mark, at, ask, stop) is { } view
            ? TypedResults.Ok(view)
            : AnswerHttp.Problem(404, "Not found", $"There is no fixture \"{place.Position}\" on \"{place.Registration}\".", "not-found");

    private static async Task<Ok<AdviceTerms>> Terms(AdviceTermsQuery query, HttpContext http, CancellationToken stop)
    {
        var (terms, version) = await query.ReadAsync(stop);
        http.Response.Headers.ETag = AnswerHttp.Tag(version);
        return TypedResults.Ok(terms);
    }

    private static async Task<ChangeResult> Change(AdviceTerms terms, ChangeAdviceHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), terms, stop)).ToHttp(http);

    internal sealed record AdvicePlace(string Registration, string Position);
}
