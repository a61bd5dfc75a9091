using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Door;
using NodaTime;

namespace Drainboard.Web.Features.Turns;

internal static class TurnsApi
{
    public static void MapTurns(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Turns");
        group.MapPut("/turns/{key}", Save).Needs(Act.ChangeTurns).MayMatch().WithSummary("Make or change a turn by its outside key: estimates, stand, on and off blocks. If-Match is optional: without it the newest word of a feed stands");
        group.MapDelete("/turns/{key}", Cancel).Needs(Act.ChangeTurns).ProducesProblem(404).ProducesProblem(422).WithSummary("A planned turn will not take place");
        group.MapPut("/sectors/{key}", SaveSector).Needs(Act.ChangeSectors).MayMatch().WithSummary("Make or change a flight by its outside key; clocks that count flights are derived anew. If-Match is optional");
        group.MapDelete("/sectors/{key}", CancelSector).Needs(Act.ChangeSectors).ProducesProblem(404).ProducesProblem(422).WithSummary("A planned flight will not be flown; clocks that count flights are derived anew");
    }

    private static async Task<ChangeResult> Save(string key, SaveTurnRequest request, SaveTurnHandler handler, HttpContext http, IClock clock, CancellationToken stop) =>
        (await handler.HandleAsync(http.Matching(NewId.At(clock.GetCurrentInstant())), key, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Cancel(string key, CancelTurnHandler handler, HttpContext http, IClock clock, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(NewId.At(clock.GetCurrentInstant())), key, stop)).ToHttp(http);

    private static async Task<ChangeResult> SaveSector(string key, SaveSectorRequest request, SaveSectorHandler handler, HttpContext http, IClock clock, CancellationToken stop) =>
        (await handler.HandleAsync(http.Matching(NewId.At(clock.GetCurrentInstant())), key, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> CancelSector(string key, CancelSectorHandler handler, HttpContext http, IClock clock, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(NewId.At(clock.GetCurrentInstant())), key, stop)).ToHttp(http);
}
