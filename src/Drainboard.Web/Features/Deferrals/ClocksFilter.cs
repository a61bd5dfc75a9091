using Drainboard.Domain.Deferrals;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>What of all clocks is shown. Every part may be left out; it is the page's address, and the query of the CSV and the print.</summary>
public sealed record ClocksFilter(string? Station = null, string? Tail = null, Category? Category = null, ClocksShown Shown = ClocksShown.All)
{
    public bool IsAll => this == new ClocksFilter();

    /// <param name="category">"A" to "D"; anything else is no filter.</param>
    /// <param name="shown">A name of <see cref="ClocksShown"/> in lower case; anything else is all.</param>
    public static ClocksFilter Of(string? station, string? tail, string? category, string? shown) => new(
        Clean(station), Clean(tail),
        Enum.TryParse<Category>(category, ignoreCase: true, out var known) && Enum.IsDefined(known) ? known : null,
        Enum.TryParse<ClocksShown>(shown, ignoreCase: true, out var which) && Enum.IsDefined(which) ? which : ClocksShown.All);

    public IEnumerable<ClockLine> Of(IEnumerable<ClockLine> lines) => lines.Where(line =>
        (Station is null || line.Station == Station || line.Next.Any(visit => visit.Station == Station))
        && (Tail is null || line.Tail == Tail)
        && (Category is null || line.Category == Category)
        && IsShown(line));

    private bool IsShown(ClockLine line) => Shown switch
    {
        ClocksShown.All => true,
        ClocksShown.Lapsed => line.Clock is { Lapsed: true },
        ClocksShown.Day => line.Clock is { UnderADay: true },
        ClocksShown.Stranded => line.Stranded,
        ClocksShown.Notice => line.NotifyBy is not null,
    };

    private static string? Clean(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim().ToUpperInvariant();
}
