namespace Drainboard.Web.Features.Paper;

internal static class PaperSizes
{
    /// <summary>"letter" in any case, else A4.</summary>
    public static PaperSize Parse(string? text) => "letter".Equals(text, StringComparison.OrdinalIgnoreCase) ? PaperSize.Letter : PaperSize.A4;
}
