using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Plumbing;

internal static class PlumbingApi
{
    public static void MapPlumbing(this IEndpointRouteBuilder api) =>
        api.MapGet("/tails/{registration}/plumbing", Read).Needs(Act.Look).ProducesProblem(404).WithTags("Plumbing").WithSummary("One branch of a tail's drainage or supply, unfolded from a place to its end, with states and pours");

    private static async Task<Results<Ok<PlumbingView>, ProblemHttpResult>> Read(string registration, PlumbingQuery query, CancellationToken stop, Choice<Water>? water = null, string? around = null) =>
        Registration.TryParse(registration, out var mark) && (around is null || Position.TryParse(around, out _)) && await query.ReadAsync(mark, water?.Value ?? Water.Drainage, around is null ? null : Position.Parse(around), stop) is { } view
            ? TypedResults.Ok(PlumbingView.Of(view))
            : AnswerHttp.Problem(404, "Not found", $"There is no \"{around ?? registration}\" to draw from on \"{registration}\".", "not-found");
}
