using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.ShiftPlans;

/// <param name="Seconds">How long to look for a better plan, up to sixty.</param>
public sealed record SolveShiftRequest(ShiftWish Wish, double Seconds = 5);

/// <summary>One item on a technician's list.</summary>
public sealed record MyItem(Guid Defect, int Number, string Station, string Tail, string Stand, string Fixture, Instant Start, int Minutes, string State, string? HeldBy);

internal static class ShiftPlansApi
{
    public static void MapShiftPlans(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("/stations/{station}").WithTags("Shift plan");
        group.MapGet("/shift", Draft).Needs(Act.Look).ProducesProblem(404).WithSummary("What a shift could do: people, stays with their windows, items with minutes, weights and windows. from, to (instants); chance (0.5 to 0.95) that times count with");
        group.MapPost("/shift/solutions", Solve).Needs(Act.PlanShift).ProducesProblem(404).ProducesProblem(422).WithSummary("Work a plan out without giving it out; close the connection to give it up");
        group.MapGet("/shift-plan", Current).Needs(Act.Look).ProducesProblem(404).WithSummary("The plan that was given out for the shift under way or the next one, with how far each item has come");
        group.MapPut("/shift-plan", Give).Needs(Act.PlanShift).MayMatch().WithSummary("Give a plan out. It is checked against the station as it stands; If-Match: the plan of this shift as it was seen");
        api.MapGet("/me/items", Mine).Needs(Act.Look).WithTags("Shift plan").WithSummary("What the caller has to do, from the plans given out");
    }

    private static async Task<Results<Ok<ShiftDraft>, ProblemHttpResult>> Draft(string station, ShiftPlanQuery query, CancellationToken stop, string? from = null, string? to = null, double chance = 0.7) =>
        StationCode.TryParse(station, out var code) && await query.DraftAsync(code, At(from), At(to), chance, stop) is { } draft ? TypedResults.Ok(draft) : Missing(station);

    private static async Task<Results<Ok<SolvedShift>, ProblemHttpResult>> Solve(string station, SolveShiftRequest request, ShiftSolver solver, CancellationToken stop)
    {
        if (!StationCode.TryParse(station, out var code))
        {
            return Missing(station);
        }

        var (solved, refusal) = await solver.SolveAsync(code, request.Wish, request.Seconds, null, stop);
        return solved is not null ? TypedResults.Ok(solved) : AnswerHttp.Problem(422, "Refused", refusal!.Words, refusal.Code);
    }

    private static async Task<Results<Ok<ShiftPlanView>, ProblemHttpResult>> Current(string station, ShiftPlanQuery query, HttpContext http, CancellationToken stop)
    {
        if (!StationCode.TryParse(station, out var code) || await query.CurrentAsync(code, stop) is not { } plan)
        {
            return AnswerHttp.Problem(404, "Not found", $"No plan was given out at \"{station}\".", "not-found");
        }

        http.Response.Headers.ETag = AnswerHttp.Tag(plan.Version);
        return TypedResults.Ok(plan);
    }

    private static async Task<ChangeResult> Give(string station, GiveShiftPlanRequest request, GiveShiftPlanHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Matching(request.Id), station, request, stop)).ToHttp(http);

    private static async Task<Ok<IReadOnlyList<MyItem>>> Mine(ShiftPlanQuery query, HttpContext http, CancellationToken stop) =>
        TypedResults.Ok<IReadOnlyList<MyItem>>([.. (await query.MineAsync(http.Actor().Person, stop)).Select(one => new MyItem(one.Item.Defect, one.Item.Number, one.Station, one.Item.Tail, one.Item.Stand, one.Item.Fixture, one.Item.Start, one.Item.Minutes, one.Progress.State, one.Progress.HeldBy))]);

    private static Instant? At(string? text) => OffsetDateTimePattern.ExtendedIso.Parse(text ?? "").TryGetValue(default, out var at) ? at.ToInstant() : null;

    private static ProblemHttpResult Missing(string station) => AnswerHttp.Problem(404, "Not found", $"There is no station \"{station}\".", "not-found");
}
