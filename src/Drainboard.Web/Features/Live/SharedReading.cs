using Drainboard.Data;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Live;

/// <summary>
/// What takes long to read and is the same for everybody: one reading serves every open page of this process until the change table has grown
/// or ten seconds have gone by. Whoever asks meanwhile waits for the one that reads.
/// </summary>
internal sealed class SharedReading<T>(IClock clock) : IDisposable
    where T : class
{
    private static readonly Duration GoodFor = Duration.FromSeconds(10);
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(20);

    private readonly SemaphoreSlim _one = new(1, 1);
    private (long Sequence, object Question, Instant At, T Answer)? _last;

    public void Dispose() => _one.Dispose();

    /// <param name="question">Another question is read anew; the last one answered is kept.</param>
    /// <param name="read">Reads it as of an instant.</param>
    public async Task<T> GetAsync(DrainboardDb db, object question, Func<Instant, Task<T>> read, CancellationToken stop)
    {
        if (!await _one.WaitAsync(LongestWait, stop))
        {
            throw new TimeoutException("What another page is reading does not come.");
        }

        try
        {
            var now = clock.GetCurrentInstant();
            var sequence = await db.Changes.MaxAsync(change => (long?)change.Sequence, stop) ?? 0;
            if (_last is { } last && last.Sequence == sequence && last.Question.Equals(question) && now >= last.At && now - last.At < GoodFor)
            {
                return last.Answer;
            }

            var answer = await read(now);
            _last = (sequence, question, now, answer);
            return answer;
        }
        finally
        {
            _one.Release();
        }
    }
}
