using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Paper;

/// <summary>A draft as a file, or that there is none.</summary>
internal static class DraftFile
{
    public static IResult Pdf(Draft? draft, string name, string? size) => draft is null ? Missing() : TypedResults.File(draft.ToPdf(PaperSizes.Parse(size)), "application/pdf", $"{name}.pdf");

    public static IResult Text(Draft? draft) => draft is null ? Missing() : TypedResults.Text(draft.ToText(), "text/plain; charset=utf-8");

    private static ProblemHttpResult Missing() => AnswerHttp.Problem(StatusCodes.Status404NotFound, "Not found", "There is nothing here to draw this paper up from.", "not-found");
}
