using System.Diagnostics;
using Drainboard.Data;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Live;

/// <summary>
/// What takes long to read and is the same for everybody: one reading serves every open page of this process until something was written
/// or ten seconds have gone by. Whoever asks meanwhile waits for the one that reads; whoever leaves takes it from nobody.
/// </summary>
/// <param name="most">How many questions have their last answer kept.</param>
internal sealed class SharedReading<T>(IDbContextFactory<DrainboardDb> factory, IClock clock, int most = 1)
    where T : class?
{
    // Sequence order is not commit order on PostgreSQL: one that commits late has a number below the newest, and is counted.
    private const int Window = 500;
    private static readonly Duration GoodFor = Duration.FromSeconds(10);
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(20);

    private readonly Lock _one = new();
    private readonly Dictionary<object, Reading> _last = [];

    /// <param name="question">What the answer depends on beside the stored facts and the time.</param>
    /// <param name="read">Reads it as of an instant, from a context of its own.</param>
    /// <exception cref="TimeoutException">The reading does not come.</exception>
    public async Task<T> GetAsync(object question, Func<DrainboardDb, Instant, Task<T>> read, CancellationToken stop)
    {
        var written = await WrittenAsync(stop);
        Task<T> answer;
        lock (_one)
        {
            var now = clock.GetCurrentInstant();
            if (!_last.TryGetValue(question, out var last) || last.Written != written || now < last.At || now - last.At >= GoodFor || last.Answer.IsFaulted || last.Answer.IsCanceled)
            {
                _last[question] = last = new Reading(written, now, Task.Run(() => ReadAsync(read, now), CancellationToken.None));
                if (_last.Count > most)
                {
                    _last.Remove(_last.MinBy(known => known.Value.At).Key);
                }
            }

            answer = last.Answer;
        }

        return await answer.WaitAsync(LongestWait, stop);
    }

    private async Task<T> ReadAsync(Func<DrainboardDb, Instant, Task<T>> read, Instant now)
    {
        using var span = Instruments.Source.StartActivity($"read {typeof(T).Name}");
        var began = Stopwatch.GetTimestamp();
        await using var db = await factory.CreateDbContextAsync(CancellationToken.None);
        var answer = await read(db, now);
        Instruments.Readings.Record(Stopwatch.GetElapsedTime(began).TotalSeconds, new KeyValuePair<string, object?>("what", typeof(T).Name));
        return answer;
    }

    private async Task<(long Newest, int Recent)> WrittenAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var known = await db.Changes.Where(change => change.Sequence > db.Changes.Max(other => other.Sequence) - Window)
            .GroupBy(_ => 1).Select(all => new { Newest = all.Max(change => change.Sequence), Recent = all.Count() }).SingleOrDefaultAsync(stop);
        return (known?.Newest ?? 0, known?.Recent ?? 0);
    }

    private sealed record Reading((long Newest, int Recent) Written, Instant At, Task<T> Answer);
}
