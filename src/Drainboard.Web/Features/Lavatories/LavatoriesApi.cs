using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Lavatories;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Lavatories;

internal static class LavatoriesApi
{
    public static void MapLavatories(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Lavatories");
        group.MapGet("/tails/{registration}/toilets", Toilets).Needs(Act.Look).ProducesProblem(404).WithSummary("A tail's toilets in service by part of the cabin, and what waiting that means on its next flights");
        group.MapGet("/waiting-terms", Terms).Needs(Act.Look).WithSummary("What waiting for a lavatory is worked out from");
        group.MapGet("/toilet-minimums", Minimums).Needs(Act.Look).WithSummary("How many toilets the operator wants in service, by length of sector");
        group.MapPut("/toilet-minimums", ChangeMinimums).Needs(Act.ChangeWaiting).Changes().WithSummary("Replace those rules");
        group.MapPut("/waiting-terms", Change).Needs(Act.ChangeWaiting).Changes().WithSummary("Change them; a member left out takes its usual value");
    }

    private static async Task<Ok<LavatoryTerms>> Terms(LavatoryTermsQuery query, HttpContext http, CancellationToken stop)
    {
        var (terms, version) = await query.ReadAsync(stop);
        http.Response.Headers.ETag = AnswerHttp.Tag(version);
        return TypedResults.Ok(terms);
    }

    private static async Task<Ok<IReadOnlyList<ToiletMinimum>>> Minimums(LavatoryTermsQuery query, HttpContext http, CancellationToken stop)
    {
        var (rules, version) = await query.MinimumsAsync(stop);
        http.Response.Headers.ETag = AnswerHttp.Tag(version);
        return TypedResults.Ok(rules);
    }

    private static async Task<ChangeResult> ChangeMinimums(IReadOnlyList<ToiletMinimum> rules, ChangeToiletMinimumsHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), rules, stop)).ToHttp(http);

    private static async Task<ChangeResult> Change(LavatoryTerms terms, ChangeWaitingHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), terms, stop)).ToHttp(http);

    private static async Task<Results<Ok<ToiletsView>, ProblemHttpResult>> Toilets(string registration, ToiletsQuery query, CancellationToken stop) =>
        Registration.TryParse(registration, out var mark) && await query.ReadAsync(mark, stop) is { } view
            ? TypedResults.Ok(view)
            : AnswerHttp.Problem(404, "Not found", $"There is no tail \"{registration}\", or it has no toilet.", "not-found");
}
