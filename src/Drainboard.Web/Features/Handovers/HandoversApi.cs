using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Features.SetUp;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Handovers;

internal static class HandoversApi
{
    public static void MapHandovers(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("/stations/{station}").WithTags("Handover");
        group.MapGet("/handover", Read).Needs(Act.Look).ProducesProblem(404).WithSummary("A station's handover as it stands now, and the last one signed");
        group.MapGet("/handovers", Signed).Needs(Act.Look).ProducesProblem(404).WithSummary("The newest signed handovers");
        group.MapGet("/handovers/{handover:guid}.pdf", Pdf).Needs(Act.Look).ProducesProblem(404).Produces(200, contentType: "application/pdf").WithSummary("A signed handover on paper; size=A4 or Letter");
        group.MapPost("/handovers", Sign).Needs(Act.HandOver).ProducesProblem(422).WithSummary("The outgoing lead signs what stands, by the hash of what was seen, with free notes");
        group.MapPost("/handovers/{handover:guid}/taking-over", TakeOver).Needs(Act.HandOver).ProducesProblem(422).WithSummary("The incoming lead signs to have taken over");
    }

    private static async Task<Results<Ok<HandoverView>, ProblemHttpResult>> Read(string station, HandoverQuery query, CancellationToken stop) =>
        StationCode.TryParse(station, out var code) && await query.ReadAsync(code, stop) is { } view ? TypedResults.Ok(view) : Missing(station);

    private static async Task<Results<Ok<IReadOnlyList<SignedHandover>>, ProblemHttpResult>> Signed(string station, HandoverQuery query, CancellationToken stop) =>
        StationCode.TryParse(station, out var code) ? TypedResults.Ok(await query.ReadSignedAsync(code, stop)) : Missing(station);

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> Pdf(string station, Guid handover, HandoverQuery query, InstallationQuery installation, CancellationToken stop, string? size = null) =>
        StationCode.TryParse(station, out var code) && await query.ReadSignedAsync(code, handover, stop) is { } signed && await query.ReadAsync(code, stop) is { } view
            ? TypedResults.File(HandoverPaper.Write(view, signed, Notices.Of(await installation.ReadAsync(stop)), PaperSizes.Parse(size)), "application/pdf", $"handover-{code}.pdf")
            : AnswerHttp.Problem(404, "Not found", "There is no such handover.", "not-found");

    private static async Task<ChangeResult> Sign(string station, SignHandoverRequest request, SignHandoverHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), station, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> TakeOver(string station, Guid handover, TakeOverRequest request, TakeOverHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), station, handover, request, stop)).ToHttp(http);

    private static ProblemHttpResult Missing(string station) => AnswerHttp.Problem(404, "Not found", $"There is no station \"{station}\".", "not-found");
}
