using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Fleet;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.WebUtilities;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>Every clock, of now. What is shown of them, and how many, is the page's address.</summary>
public sealed partial class ClocksPage
{
    private IReadOnlyList<FleetPart> _parts = [];
    private const int Page = 25;

    private static readonly (ClocksShown Which, string Words)[] Choices =
        [(ClocksShown.All, "All"), (ClocksShown.Lapsed, "Lapsed"), (ClocksShown.Stranded, "No stay in time"), (ClocksShown.Day, "Within a day"), (ClocksShown.Notice, "Authority to be told")];

    private ClocksView? _clocks;
    private ClocksFilter _filter = new();
    private IReadOnlyList<ClockLine> _lines = [];
    private IReadOnlyList<ClockLine> _awaiting = [];
    private IReadOnlyList<string> _stations = [];

    [SupplyParameterFromQuery] public string? Station { get; set; }

    [SupplyParameterFromQuery] public string? Tail { get; set; }

    [SupplyParameterFromQuery] public string? Category { get; set; }

    [SupplyParameterFromQuery] public string? Shown { get; set; }

    [SupplyParameterFromQuery] public int? Lines { get; set; }

    [Inject] public required ClocksQuery Clocks { get; init; }

    [Inject] public required PartsQuery Parts { get; init; }

    [Inject] public required StationsQuery Stations { get; init; }

    [Inject] public required NavigationManager Navigation { get; init; }

    private int Show => Math.Clamp(Lines ?? Page, 1, 1000);

    protected override async Task OnParametersSetAsync()
    {
        _filter = ClocksFilter.Of(Station, Tail, Category, Shown);
        if (_clocks is { } held)
        {
            // Another choice of what is here already: it needs no database.
            Choose(held);
            await RefreshAsync();
            return;
        }

        _stations = [.. (await Stations.ReadAsync(Stop)).Select(station => station.Code)];
        await ReadAsync();
    }

    protected override async Task ReadAsync()
    {
        var clocks = await Clocks.ReadAsync(Stop);
        _parts = await Parts.ReadAsync(null, Stop);
        _clocks = clocks;
        Choose(clocks);
    }

    private void Choose(ClocksView clocks)
    {
        _lines = _filter.IsAll ? clocks.Lines : [.. _filter.Of(clocks.Lines)];
        _awaiting = _filter.IsAll ? clocks.Awaiting : [.. _filter.Of(clocks.Awaiting)];
    }

    private void Go(ClocksFilter filter) => Navigation.NavigateTo(Address(filter));

    private static string? Chosen(ChangeEventArgs change) => change.Value?.ToString() is { Length: > 0 } chosen ? chosen : null;

    private static string Address(ClocksFilter filter, int? lines = null) => "/clocks" + Query(filter, lines);

    internal static string Query(ClocksFilter filter, int? lines = null) => QueryHelpers.AddQueryString("", new Dictionary<string, string?>
    {
        ["station"] = filter.Station,
        ["tail"] = filter.Tail,
        ["category"] = filter.Category?.ToString(),
        ["shown"] = filter.Shown == ClocksShown.All ? null : filter.Shown.ToString().ToLowerInvariant(),
        ["lines"] = lines?.ToString(System.Globalization.CultureInfo.InvariantCulture),
    });
}
