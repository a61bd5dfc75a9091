using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Drainboard.Web.Features.PlannedChecks;

internal static class PlannedChecksApi
{
    public static void MapPlannedChecks(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Planned checks");
        group.MapGet("/planned-checks", List).Needs(Act.Look).WithSummary("The newest version of every planned check");
        group.MapPut("/planned-checks/{code}", Save).Needs(Act.ManageChecks).Changes().ProducesProblem(404).WithSummary("Write or change a planned check: each save is its next version. If-None-Match: * for a new one");
        group.MapGet("/planned-checks/due", Fleet).Needs(Act.Look).WithSummary("What is due on every tail at its present or next stay, the worst first");
        group.MapGet("/tails/{registration}/round", Read).Needs(Act.Look).ProducesProblem(404).WithSummary("A tail's walk-round: what is due at its present or next stay, when there is time for it, and what was done");
        group.MapPost("/tails/{registration}/checks-done", Record).Needs(Act.DoCheck).ProducesProblem(404).ProducesProblem(422).WithSummary("Record a planned check: good, not reached, or something found, which becomes a report with the same id; photos are added to that");
        group.MapPost("/tails/{registration}/checks-done/{id:guid}/withdrawal", TakeBack).Needs(Act.DoCheck).ProducesProblem(404).ProducesProblem(422).WithSummary("Take a check back that was recorded in error");
        group.MapGet("/stations/{station}/temperature", Temperature).Needs(Act.Look).ProducesProblem(404).WithSummary("What is known of the temperature on a station's stands");
        group.MapPost("/stations/{station}/temperatures", Tell).Needs(Act.TellTemperature).ProducesProblem(404).ProducesProblem(422).WithSummary("Tell how cold it is on a station's stands, or how cold it is expected to get");
    }

    private static async Task<Ok<IReadOnlyList<PlannedCheckView>>> List(PlannedChecksQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<Ok<ChecksFleetView>> Fleet(ChecksFleetQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<ChangeResult> Save(string code, SavePlannedCheckRequest request, SavePlannedCheckHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing() with { Command = request.Id }, code, request, stop)).ToHttp(http);

    private static async Task<Results<Ok<RoundView>, ProblemHttpResult>> Read(string registration, RoundQuery query, CancellationToken stop) =>
        Registration.TryParse(registration, out var mark) && await query.ReadAsync(mark, stop) is { } view ? TypedResults.Ok(view) : AnswerHttp.Problem(404, "Not found", $"There is no tail \"{registration}\".", "not-found");

    private static async Task<ChangeResult> Record(string registration, RecordCheckRequest request, RecordCheckHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), registration, request, null, stop)).ToHttp(http, $"/api/v1/tails/{registration}/round");

    private static async Task<ChangeResult> TakeBack(string registration, Guid id, ReasonRequest request, TakeBackCheckHandler handler, HttpContext http, IClock clock, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(Domain.NewId.At(clock.GetCurrentInstant())), registration, id, request, stop)).ToHttp(http);

    private static async Task<Results<Ok<StationTemperatureView>, ProblemHttpResult>> Temperature(string station, TemperatureQuery query, CancellationToken stop) =>
        StationCode.TryParse(station, out var code) && await query.ReadAsync(code, stop) is { } view ? TypedResults.Ok(view) : AnswerHttp.Problem(404, "Not found", $"There is no station \"{station}\".", "not-found");

    private static async Task<ChangeResult> Tell(string station, TellTemperatureRequest request, TellTemperatureHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), station, request, stop)).ToHttp(http, $"/api/v1/stations/{station}/temperature");
}
