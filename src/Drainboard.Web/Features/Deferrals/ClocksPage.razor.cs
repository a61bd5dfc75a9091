using Drainboard.Web.Features.Live;
using Microsoft.AspNetCore.Components;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>Every running clock: follows the change feed, and reads again every half minute so that times move.</summary>
public sealed partial class ClocksPage : IAsyncDisposable
{
    private static readonly TimeSpan Tick = TimeSpan.FromSeconds(30);

    private readonly CancellationTokenSource _stop = new();
    private ClocksView? _clocks;
    private bool _notCurrent;
    private Task _following = Task.CompletedTask;
    private Task _ticking = Task.CompletedTask;

    [Inject] public required ClocksQuery Query { get; init; }

    [Inject] public required ChangeFeed Feed { get; init; }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await Task.WhenAll(_following, _ticking);
        _stop.Dispose();
    }

    protected override async Task OnInitializedAsync() => _clocks = await Query.ReadAsync(_stop.Token);

    protected override void OnAfterRender(bool firstRender)
    {
        if (firstRender)
        {
            _following = FollowAsync();
            _ticking = TickAsync();
        }
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
            _clocks = await Query.ReadAsync(_stop.Token);
            _notCurrent = false;
        }
        catch (Exception failure) when (failure is System.Data.Common.DbException or InvalidOperationException or TimeoutException)
        {
            _notCurrent = true;
        }

        StateHasChanged();
    }
}
