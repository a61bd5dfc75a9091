using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Features.SetUp;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Departure;

internal static class DepartureApi
{
    public static void MapDeparture(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("/tails/{registration}").WithTags("Departure");
        group.MapGet("/departure-sheet", Read).Needs(Act.Look).WithSummary("Every carried item of an aircraft before its departure, and who has acknowledged it");
        group.MapGet("/departure-sheet.pdf", Pdf).Needs(Act.Look).Produces(200, contentType: "application/pdf").WithSummary("The same on paper; size=A4 or Letter");
        group.MapPost("/departure-sheet/acknowledgement", Acknowledge).Needs(Act.AcknowledgeSheet).ProducesProblem(422).WithSummary("The pilot in command or the senior crew member has read the sheet with this hash");
    }

    private static async Task<Results<Ok<SheetView>, ProblemHttpResult>> Read(string registration, SheetQuery query, CancellationToken stop) =>
        Registration.TryParse(registration, out var mark) && await query.ReadAsync(mark, stop) is { } sheet ? TypedResults.Ok(sheet) : Missing(registration);

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> Pdf(string registration, SheetQuery query, InstallationQuery installation, CancellationToken stop, string? size = null) =>
        Registration.TryParse(registration, out var mark) && await query.ReadAsync(mark, stop) is { } sheet
            ? TypedResults.File(SheetPaper.Write(sheet, Notices.Of(await installation.ReadAsync(stop)), PaperSizes.Parse(size)), "application/pdf", $"departure-{mark}.pdf")
            : Missing(registration);

    private static async Task<ChangeResult> Acknowledge(string registration, AcknowledgeSheetRequest request, AcknowledgeSheetHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), registration, request, stop)).ToHttp(http);

    private static ProblemHttpResult Missing(string registration) => AnswerHttp.Problem(404, "Not found", $"There is no tail \"{registration}\".", "not-found");
}
