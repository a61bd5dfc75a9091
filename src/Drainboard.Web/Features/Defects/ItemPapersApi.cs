using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Features.Records;
using Drainboard.Web.Features.SetUp;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

/// <summary>The papers of one item.</summary>
internal static class ItemPapersApi
{
    public static void MapItemPapers(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("/defects/{id:guid}").WithTags("Defects");
        group.MapGet("/log-page.pdf", LogPage).Needs(Act.Look).ProducesProblem(404).Produces(200, contentType: "application/pdf").WithSummary("The item on paper, with its signatures and the newest seal of the record; size=A4 or Letter");
        group.MapGet("/placard.pdf", Placard).Needs(Act.Look).ProducesProblem(404).ProducesProblem(422).Produces(200, contentType: "application/pdf").WithSummary("The placard of its deferral, to cut out; size=A4 or Letter");
        group.MapGet("/service-difficulty.pdf", DifficultyPdf).Needs(Act.Look).ProducesProblem(404).Produces(200, contentType: "application/pdf").WithSummary("Draft of a service difficulty report (14 CFR 121.703) with its deadline and what is missing marked; size=A4 or Letter");
        group.MapGet("/service-difficulty.txt", DifficultyText).Needs(Act.Look).ProducesProblem(404).Produces<string>(200, "text/plain").WithSummary("The same as text");
        group.MapGet("/extension-notice.pdf", NoticePdf).Needs(Act.Look).ProducesProblem(404).Produces(200, contentType: "application/pdf").WithSummary("Draft of the notice of an extension to the authority, with what is missing marked; size=A4 or Letter");
        group.MapGet("/extension-notice.txt", NoticeText).Needs(Act.Look).ProducesProblem(404).Produces<string>(200, "text/plain").WithSummary("The same as text");
    }

    private static async Task<IResult> DifficultyPdf(Guid id, DefectQuery query, InstallationQuery installation, HttpContext http, CancellationToken stop, string? size = null) =>
        DraftFile.Pdf(await query.ReadAsync(new DefectId(id), http.Actor(), stop) is { } item ? ServiceDifficultyDraft.Of(item, await installation.ReadAsync(stop)) : null, "service-difficulty", size);

    private static async Task<IResult> DifficultyText(Guid id, DefectQuery query, InstallationQuery installation, HttpContext http, CancellationToken stop) =>
        DraftFile.Text(await query.ReadAsync(new DefectId(id), http.Actor(), stop) is { } item ? ServiceDifficultyDraft.Of(item, await installation.ReadAsync(stop)) : null);

    private static async Task<IResult> NoticePdf(Guid id, DefectQuery query, InstallationQuery installation, HttpContext http, CancellationToken stop, string? size = null) =>
        DraftFile.Pdf(await query.ReadAsync(new DefectId(id), http.Actor(), stop) is { } item ? ExtensionNoticeDraft.Of(item, await installation.ReadAsync(stop)) : null, "extension-notice", size);

    private static async Task<IResult> NoticeText(Guid id, DefectQuery query, InstallationQuery installation, HttpContext http, CancellationToken stop) =>
        DraftFile.Text(await query.ReadAsync(new DefectId(id), http.Actor(), stop) is { } item ? ExtensionNoticeDraft.Of(item, await installation.ReadAsync(stop)) : null);

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> LogPage(Guid id, DefectQuery query, SealsQuery seals, InstallationQuery installation, IClock clock, HttpContext http, CancellationToken stop, string? size = null)
    {
        if (await query.ReadAsync(new DefectId(id), http.Actor(), stop) is not { } item)
        {
            return Missing();
        }

        var about = await installation.ReadAsync(stop);
        return TypedResults.File(LogPagePaper.Write(item, await seals.ReadAsync(stop) is [var newest, ..] ? newest : null, Notices.Of(about), about.OperatorName, ReportUrl(http, item), clock.GetCurrentInstant(), PaperSizes.Parse(size)), "application/pdf", $"{item.Tail}-{item.Number}.pdf");
    }

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> Placard(Guid id, DefectQuery query, InstallationQuery installation, HttpContext http, CancellationToken stop, string? size = null) =>
        await query.ReadAsync(new DefectId(id), http.Actor(), stop) is not { } item ? Missing()
        : item.Deferral is not { EndedAt: null } deferral ? AnswerHttp.Problem(422, "Refused", "A placard belongs to a deferral, and this item carries none. Propose one first.", "no-deferral")
        : TypedResults.File(PlacardPaper.Write(item, deferral, ReportUrl(http, item), Notices.Of(await installation.ReadAsync(stop)), PaperSizes.Parse(size)), "application/pdf", $"placard-{item.Tail}-{item.Position}.pdf");

    private static string ReportUrl(HttpContext http, DefectView item) => $"{http.Request.Scheme}://{http.Request.Host}/report?tail={item.Tail}&at={item.Position}";

    private static ProblemHttpResult Missing() => AnswerHttp.Problem(404, "Not found", "There is no such defect.", "not-found");
}
