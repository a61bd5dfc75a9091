using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Live;
using Microsoft.AspNetCore.Components;

namespace Drainboard.Web.Features.Board;

/// <summary>
/// The Board: follows the change feed, and reads again every half minute so that times move. Its state is its address.
/// </summary>
public sealed partial class BoardPage : IAsyncDisposable
{
    private static readonly TimeSpan Tick = TimeSpan.FromSeconds(30);

    private readonly CancellationTokenSource _stop = new();
    private IReadOnlyList<StationView> _stations = [];
    private BoardView? _board;
    private string? _shown;
    private bool _missing;
    private bool _notCurrent;
    private Task _following = Task.CompletedTask;
    private Task _ticking = Task.CompletedTask;

    [Parameter] public string? Station { get; set; }

    [Inject] public required BoardQuery Query { get; init; }

    [Inject] public required StationsQuery Stations { get; init; }

    [Inject] public required CurrentActor Current { get; init; }

    [Inject] public required ChangeFeed Feed { get; init; }

    [Inject] public required NavigationManager Navigation { get; init; }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await Task.WhenAll(_following, _ticking);
        _stop.Dispose();
    }

    protected override async Task OnParametersSetAsync()
    {
        _stations = await Stations.ReadAsync(_stop.Token);
        _shown = Station ?? await HomeAsync();
        await ReadAsync();
    }

    protected override void OnAfterRender(bool firstRender)
    {
        if (firstRender)
        {
            _following = FollowAsync();
            _ticking = TickAsync();
        }
    }

    /// <summary>The person's own station, or the first.</summary>
    private async Task<string?> HomeAsync()
    {
        var actor = await Current.FindAsync(_stop.Token);
        var own = actor?.Stations.Codes.Select(code => code.Value).FirstOrDefault();
        return _stations.FirstOrDefault(station => station.Code == own)?.Code ?? _stations.Select(station => station.Code).FirstOrDefault();
    }

    private async Task ReadAsync()
    {
        _board = StationCode.TryParse(_shown, out var code) ? await Query.ReadAsync(code, _stop.Token) : null;
        _missing = _board is null;
    }

    private async Task FollowAsync()
    {
        try
        {
            await foreach (var _ in Feed.ListenAsync(_stop.Token))
            {
                await RefreshAsync();
            }
        }
        catch (OperationCanceledException)
        {
            // The page was closed.
        }
    }

    private async Task TickAsync()
    {
        try
        {
            using var timer = new PeriodicTimer(Tick);
            while (await timer.WaitForNextTickAsync(_stop.Token))
            {
                await RefreshAsync();
            }
        }
        catch (OperationCanceledException)
        {
            // The page was closed.
        }
    }

    /// <summary>A database that does not answer for a while must not end the page: it says that it is not current, and goes on trying.</summary>
    private async Task RefreshAsync()
    {
        try
        {
            await ReadAsync();
            _notCurrent = false;
        }
        catch (Exception failure) when (failure is System.Data.Common.DbException or InvalidOperationException or TimeoutException)
        {
            _notCurrent = true;
        }

        StateHasChanged();
    }
}
