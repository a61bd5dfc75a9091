using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Network;

/// <param name="Seconds">How long to look for a better plan, up to sixty.</param>
public sealed record SolveNetworkRequest(NetworkWish Wish, double Seconds = 5);

internal static class NetworkApi
{
    public static void MapNetwork(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("/network").WithTags("Network");
        group.MapGet("", Draft).Needs(Act.Look).ProducesProblem(422).WithSummary("Every running deferral over the next days (1 to 14): the stays that can take it, each with its chance, and the last of all that can");
        group.MapGet("/items/{id:guid}", Item).Needs(Act.Look).ProducesProblem(404).WithSummary("One running deferral with every stay of the days, and why those that cannot take it cannot");
        group.MapPost("/solutions", Solve).Needs(Act.PlanNetwork).ProducesProblem(422).WithSummary("Plan which stay takes which item, fewest late, without giving it out; what if a station is closed, has other minutes, or two tails are swapped; close the connection to give it up");
        group.MapGet("/plan", Current).Needs(Act.Look).ProducesProblem(404).WithSummary("The plan that was given out, with how far each item has come");
        group.MapPut("/plan", Give).Needs(Act.PlanNetwork).MayMatch().WithSummary("Give a plan out. It is checked against the fleet as it stands; If-Match: the plan as it was seen");
    }

    private static async Task<Results<Ok<NetworkDraft>, ProblemHttpResult>> Draft(NetworkQuery query, CancellationToken stop, int days = 7)
    {
        var (draft, refusal) = await query.DraftAsync(new NetworkWish(days), stop);
        return draft is not null ? TypedResults.Ok(draft) : AnswerHttp.Problem(422, "Refused", refusal!.Words, refusal.Code);
    }

    private static async Task<Results<Ok<NetworkItemView>, ProblemHttpResult>> Item(Guid id, NetworkQuery query, CancellationToken stop, int days = 7) =>
        await query.ItemAsync(new DefectId(id), days, stop) is { } item ? TypedResults.Ok(item) : AnswerHttp.Problem(404, "Not found", "There is no such defect, or no deferral runs on it.", "not-found");

    private static async Task<Results<Ok<SolvedNetwork>, ProblemHttpResult>> Solve(SolveNetworkRequest request, NetworkSolver solver, CancellationToken stop)
    {
        var (solved, refusal) = await solver.SolveAsync(request.Wish, request.Seconds, null, stop);
        return solved is not null ? TypedResults.Ok(solved) : AnswerHttp.Problem(422, "Refused", refusal!.Words, refusal.Code);
    }

    private static async Task<Results<Ok<FleetPlanView>, ProblemHttpResult>> Current(NetworkQuery query, HttpContext http, CancellationToken stop)
    {
        if (await query.CurrentAsync(stop) is not { } plan)
        {
            return AnswerHttp.Problem(404, "Not found", "No plan of the network was given out.", "not-found");
        }

        http.Response.Headers.ETag = AnswerHttp.Tag(plan.Version);
        return TypedResults.Ok(plan);
    }

    private static async Task<ChangeResult> Give(GiveNetworkPlanRequest request, GiveNetworkPlanHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Matching(request.Id), request, stop)).ToHttp(http);
}
