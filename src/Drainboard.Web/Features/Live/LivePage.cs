using Microsoft.AspNetCore.Components;

namespace Drainboard.Web.Features.Live;

/// <summary>
/// A desk page that is always of now: it follows the change feed, and reads again every half minute so that times move. A
/// database that does not answer for a while must not end the page: it says that it is not current, and goes on trying.
/// </summary>
public abstract class LivePage : ComponentBase, IAsyncDisposable
{
    private static readonly TimeSpan Tick = TimeSpan.FromSeconds(30);

    private readonly CancellationTokenSource _stop = new();
    private Task _following = Task.CompletedTask;
    private Task _ticking = Task.CompletedTask;

    [Inject] public required ChangeFeed Feed { get; init; }

    protected CancellationToken Stop => _stop.Token;

    /// <summary>The last reading failed: what is shown is of earlier.</summary>
    protected bool IsStale { get; private set; }

    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        await _stop.CancelAsync();
        await Task.WhenAll(_following, _ticking);
        _stop.Dispose();
    }

    /// <summary>Reads everything that the page shows.</summary>
    protected abstract Task ReadAsync();

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
            await foreach (var _ in Feed.ListenAsync(Stop))
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
            while (await timer.WaitForNextTickAsync(Stop))
            {
                await RefreshAsync();
            }
        }
        catch (OperationCanceledException)
        {
            // The page was closed.
        }
    }

    /// <summary>Reads again; where that fails, what is shown stays and is said to be of earlier.</summary>
    protected async Task RefreshAsync()
    {
        try
        {
            await ReadAsync();
            IsStale = false;
        }
        catch (Exception failure) when (failure is System.Data.Common.DbException or InvalidOperationException or TimeoutException)
        {
            IsStale = true;
        }

        StateHasChanged();
    }
}
