using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Tanks;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Tanks;

internal static class TanksApi
{
    public static void MapTanks(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Tanks");
        group.MapGet("/tails/{registration}/tanks", Read).Needs(Act.Look).ProducesProblem(404).WithSummary("What a tail's tanks hold likely, how that goes on over its next flights, and before which to service");
        group.MapGet("/tails/{registration}/tanks/potable.svg", PotablePlot).Needs(Act.Look).Produces<string>(200, "image/svg+xml").ProducesProblem(404).WithSummary("Potable water over the next flights as a plot");
        group.MapGet("/tails/{registration}/tanks/waste.svg", WastePlot).Needs(Act.Look).Produces<string>(200, "image/svg+xml").ProducesProblem(404).WithSummary("Waste over the next flights as a plot");
        group.MapPost("/tails/{registration}/potable-uplifts", Uplift).Needs(Act.RecordServicing).ProducesProblem(404).ProducesProblem(422).WithSummary("Record potable water taken on");
        group.MapPost("/tails/{registration}/waste-services", Waste).Needs(Act.RecordServicing).ProducesProblem(404).ProducesProblem(422).WithSummary("Record that the waste tank was emptied and pre-charged");
        group.MapPut("/layouts/{layout}/tanks", Size).Needs(Act.ChangeTanks).ProducesProblem(404).ProducesProblem(422).WithSummary("Say what the tanks of a layout hold");
        group.MapGet("/tank-terms", Terms).Needs(Act.Look).WithSummary("What balances of water and waste begin with");
        group.MapPut("/tank-terms", Change).Needs(Act.ChangeTanks).Changes().WithSummary("Change them; a member left out takes its usual value");
    }

    private static async Task<Ok<TankTerms>> Terms(TankTermsQuery query, HttpContext http, CancellationToken stop)
    {
        var (terms, version) = await query.ReadAsync(stop);
        http.Response.Headers.ETag = AnswerHttp.Tag(version);
        return TypedResults.Ok(terms);
    }

    private static async Task<ChangeResult> Change(TankTerms terms, ChangeTanksHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), terms, stop)).ToHttp(http);

    private static async Task<ChangeResult> Size(string layout, SizeTanksRequest request, SizeTanksHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), layout, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Uplift(string registration, UpliftRequest request, UpliftHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), registration, request, stop)).ToHttp(http, $"/api/v1/tails/{registration}/tanks");

    private static async Task<ChangeResult> Waste(string registration, WasteRequest request, WasteHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), registration, request, stop)).ToHttp(http, $"/api/v1/tails/{registration}/tanks");

    private static async Task<Results<Ok<TanksView>, ProblemHttpResult>> Read(string registration, TanksQuery query, CancellationToken stop) =>
        await FindAsync(registration, query, stop) is { } view ? TypedResults.Ok(view) : Missing(registration);

    private static async Task<IResult> PotablePlot(string registration, TanksQuery query, HttpContext http, CancellationToken stop) =>
        await FindAsync(registration, query, stop) is { Potable.Now: not null } view ? await SvgFile.OfAsync<TankPlot>(view.Potable, http) : Missing(registration);

    private static async Task<IResult> WastePlot(string registration, TanksQuery query, HttpContext http, CancellationToken stop) =>
        await FindAsync(registration, query, stop) is { Waste.Now: not null } view ? await SvgFile.OfAsync<TankPlot>(view.Waste, http) : Missing(registration);

    private static async Task<TanksView?> FindAsync(string registration, TanksQuery query, CancellationToken stop) => Registration.TryParse(registration, out var mark) ? await query.ReadAsync(mark, stop) : null;

    private static ProblemHttpResult Missing(string registration) => AnswerHttp.Problem(404, "Not found", $"There is no tail \"{registration}\", or nothing is known of its tanks yet.", "not-found");
}
