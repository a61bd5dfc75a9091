using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Board;

internal static class BoardApi
{
    public static void MapBoard(this IEndpointRouteBuilder api) =>
        api.MapGet("/board/{station}", Read).Needs(Act.Look).WithTags("Board").WithSummary("A station now: tails on the ground and inbound in order of departure, with what is open and deferred on each");

    private static async Task<Results<Ok<BoardView>, ProblemHttpResult>> Read(string station, BoardQuery query, CancellationToken stop) =>
        StationCode.TryParse(station, out var code) && await query.ReadAsync(code, stop) is { } view
            ? TypedResults.Ok(view)
            : AnswerHttp.Problem(404, "Not found", $"There is no station \"{station}\".", "not-found");
}
