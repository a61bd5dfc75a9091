namespace Drainboard.Web.Features.Paper;

public enum PaperSize
{
    A4,
    Letter,
}
