using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Drainboard.Web.Features.Turns;

internal static class TurnsApi
{
    public static void MapTurns(this IEndpointRouteBuilder api) =>
        api.MapPut("/turns/{key}", Save).Needs(Act.ChangeTurns).MayMatch().WithTags("Turns").WithSummary("Make or change a turn by its outside key: estimates, stand, on and off blocks. If-Match is optional: without it the newest word of a feed stands");

    private static async Task<Results<Ok<DoneBody>, Created<DoneBody>, ProblemHttpResult>> Save(string key, SaveTurnRequest request, SaveTurnHandler handler, HttpContext http, IClock clock, CancellationToken stop) =>
        (await handler.HandleAsync(http.Matching(NewId.At(clock.GetCurrentInstant())), key, request, stop)).ToHttp(http);
}
