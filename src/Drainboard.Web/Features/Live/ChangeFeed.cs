using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using System.Threading.Channels;
using Drainboard.Data;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Live;

/// <summary>
/// Tells open pages that something changed, in this process or another: it reads the change table by sequence, at once when
/// this process has written or another one rings, and otherwise every second. A listener is only ever told to look again. Sequence order is not commit
/// order on PostgreSQL, so a small window before the newest number is read again and what was seen there is remembered.
/// </summary>
public sealed class ChangeFeed(IDbContextFactory<DrainboardDb> factory, ChangeBell others, IClock clock, ILogger<ChangeFeed> log) : BackgroundService
{
    private const int Window = 500;
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan Rest = TimeSpan.FromMilliseconds(25);

    private readonly ConcurrentDictionary<Channel<long>, byte> _open = [];
    private readonly SemaphoreSlim _bell = new(0);
    private readonly HashSet<long> _seen = [];
    private long _newest;
    private volatile bool _wrote;
    private bool _isRung;

    public const string SignInsEnded = "sign-in.ended";

    // Changes after which somebody may be out; an import, and many changes at once, name nobody.
    private static readonly string[] AboutSignIns = [SignInsEnded, "person.changed", "person.password", "import.done", "many"];

    public int Listeners => _open.Count;

    /// <summary>These people were signed out somewhere, or their accounts were changed (an empty id: anybody's may have been): whoever shows something to a person looks whether they still may.</summary>
    public event Action<IReadOnlySet<Guid>>? SignInsChanged;

    /// <summary>This process has written something: it reads at once, and tells the others.</summary>
    public void Ring()
    {
        _wrote = true;
        Wake();
    }

    private void Wake()
    {
        // Once is enough until it is heard.
        if (!Interlocked.Exchange(ref _isRung, true))
        {
            _bell.Release();
        }
    }

    public async IAsyncEnumerable<long> ListenAsync([EnumeratorCancellation] CancellationToken stop)
    {
        var mine = Channel.CreateBounded<long>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropOldest });
        _open[mine] = 0;
        Instruments.Following.Add(1);
        try
        {
            await foreach (var sequence in mine.Reader.ReadAllAsync(stop))
            {
                yield return sequence;
            }
        }
        finally
        {
            _open.TryRemove(mine, out _);
            Instruments.Following.Add(-1);
        }
    }

    protected override Task ExecuteAsync(CancellationToken stoppingToken) => Task.WhenAll(FollowAsync(stoppingToken), HearAsync(stoppingToken));

    /// <summary>Hears the other processes; while that fails, the timer reads what they write.</summary>
    private async Task HearAsync(CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            try
            {
                await others.HearAsync(Wake, stop);
            }
            catch (OperationCanceledException) when (stop.IsCancellationRequested)
            {
                return;
            }
            catch (Exception failure) when (failure is System.Data.Common.DbException or InvalidOperationException or TimeoutException or OperationCanceledException)
            {
                log.LogWarning(failure, "Other processes are not heard; listening again");
                await Task.Delay(Pause, CancellationToken.None);
            }
        }
    }

    private async Task FollowAsync(CancellationToken stoppingToken)
    {
        var begun = false;
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                if (_wrote)
                {
                    // Once for all that was written since the last time.
                    _wrote = false;
                    await others.RingAsync(stoppingToken);
                }

                var oldest = await ReadAsync(stoppingToken);
                if (oldest is { } since && begun)
                {
                    Tell();
                    Instruments.ChangesTold.Record((clock.GetCurrentInstant() - since).TotalSeconds);
                }

                begun = true;
                if (oldest is not null)
                {
                    // Under many writes this bounds how often everybody reads again; the first of them is told at once.
                    await Task.Delay(Rest, stoppingToken);
                }

                if (await _bell.WaitAsync(Pause, stoppingToken))
                {
                    Interlocked.Exchange(ref _isRung, false);
                }
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
            catch (Exception failure) when (failure is System.Data.Common.DbException or InvalidOperationException or TimeoutException or OperationCanceledException)
            {
                log.LogWarning(failure, "The change table could not be read; trying again");
                await Task.Delay(Pause, CancellationToken.None);
            }
        }
    }

    /// <returns>When the first of what is new was tried; null where nothing is.</returns>
    private async Task<Instant?> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var from = _newest - Window;
        var changes = await db.Changes.Where(change => change.Sequence > from).OrderByDescending(change => change.Sequence).Select(change => new { change.Sequence, change.Kind, change.Subject, change.At }).Take(2 * Window).ToArrayAsync(stop);
        var (oldest, signIns) = ((Instant?)null, new HashSet<Guid>());
        foreach (var change in changes)
        {
            var isNew = _seen.Add(change.Sequence);
            oldest = isNew && !(oldest < change.At) ? change.At : oldest;
            if (isNew && AboutSignIns.Contains(change.Kind))
            {
                signIns.Add(change.Subject);
            }

            _newest = Math.Max(_newest, change.Sequence);
        }

        if (signIns.Count > 0)
        {
            SignInsChanged?.Invoke(signIns);
        }

        _seen.RemoveWhere(sequence => sequence <= _newest - Window);
        return oldest;
    }

    private void Tell()
    {
        foreach (var channel in _open.Keys)
        {
            channel.Writer.TryWrite(_newest);
        }
    }
}
