using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Fleet;
using Microsoft.AspNetCore.Components;

namespace Drainboard.Web.Features.Board;

/// <summary>The Board of one station, of now. Its state is its address.</summary>
public sealed partial class BoardPage
{
    private IReadOnlyList<StationView> _stations = [];
    private BoardView? _board;
    private Actor? _actor;
    private string? _shown;
    private bool _missing;

    [Parameter] public string? Station { get; set; }

    [Inject] public required BoardQuery Query { get; init; }

    [Inject] public required StationsQuery Stations { get; init; }

    [Inject] public required CurrentActor Current { get; init; }

    protected override async Task OnParametersSetAsync()
    {
        _stations = await Stations.ReadAsync(Stop);
        _actor = await Current.FindAsync(Stop);
        _shown = Station ?? Home();
        await ReadAsync();
    }

    protected override async Task ReadAsync()
    {
        _board = StationCode.TryParse(_shown, out var code) ? await Query.ReadAsync(code, Stop) : null;
        _missing = _board is null;
    }

    /// <summary>The person's own station, or the first.</summary>
    private string? Home()
    {
        var own = _actor?.Stations.Codes.Select(code => code.Value).FirstOrDefault();
        return _stations.FirstOrDefault(station => station.Code == own)?.Code ?? _stations.Select(station => station.Code).FirstOrDefault();
    }

    /// <summary>What this person may sort here; the handler still asks where the aircraft is.</summary>
    private bool MaySort(BoardCard card) => _actor is { } actor && Permissions.WhyNot(actor, Act.Sort, Registration.Parse(card.Tail), [StationCode.Parse(_board!.Station)]) is null;
}
