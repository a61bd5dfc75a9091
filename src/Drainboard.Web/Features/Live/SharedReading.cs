using System.Diagnostics;
using Drainboard.Data;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Live;

/// <summary>
/// What takes long to read and is the same for everybody: one reading serves every open page of this process until something was written
/// or ten seconds have gone by. Of each question one reading runs at a time, and one waits behind it for all who know of something newer; whoever leaves takes it from nobody.
/// </summary>
/// <param name="most">How many questions have their last answer kept.</param>
internal sealed class SharedReading<T>(IDbContextFactory<DrainboardDb> factory, IClock clock, int most = 1)
    where T : class?
{
    // Sequence order is not commit order on PostgreSQL: one that commits late has a number below the newest, and raises the sum of the newest so many.
    private const int Window = 500;
    private static readonly Duration GoodFor = Duration.FromSeconds(10);
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(20);

    private readonly Lock _one = new();
    private readonly Dictionary<object, Question> _questions = [];

    /// <param name="question">What the answer depends on beside the stored facts and the time.</param>
    /// <param name="read">Reads it as of an instant, from a context of its own.</param>
    /// <exception cref="TimeoutException">The reading does not come.</exception>
    public async Task<T> GetAsync(object question, Func<DrainboardDb, Instant, Task<T>> read, CancellationToken stop)
    {
        var written = await WrittenAsync(stop);
        Task<T> coming;
        lock (_one)
        {
            var asked = Of(question);
            if (asked.Last is { Answer.IsCompleted: false } stuck && stuck.Began.Elapsed > LongestWait)
            {
                // Whoever waited for it has given up; it holds nobody else up.
                asked = _questions[question] = new Question();
            }

            coming = asked.Last is { } last && Serves(last, written) ? last.Answer
                : asked.Next is { } next ? next
                : asked.Last is { Answer.IsCompleted: false } running ? asked.Next = AfterAsync(asked, running, read)
                : Begin(asked, written, read);
        }

        var answer = await coming.WaitAsync(LongestWait, stop);
        if (answer is null)
        {
            // There is no such thing: it takes no place among those that there are.
            lock (_one)
            {
                _questions.Remove(question);
            }
        }

        return answer;
    }

    private Question Of(object question)
    {
        if (!_questions.TryGetValue(question, out var asked))
        {
            _questions[question] = asked = new Question();
            if (_questions.Count > most)
            {
                _questions.Remove(_questions.Where(known => known.Value != asked).MinBy(known => known.Value.Last?.At).Key);
            }
        }

        return asked;
    }

    /// <summary>A reading that was begun knowing of something newer serves too: it was begun later.</summary>
    private bool Serves(Reading last, (long Newest, long Sum) written) =>
        (last.Written == written || last.Written.Newest > written.Newest)
        && (!last.Answer.IsCompleted || (last.Answer.IsCompletedSuccessfully && clock.GetCurrentInstant() - last.At is var age && age >= Duration.Zero && age < GoodFor));

    private Task<T> Begin(Question asked, (long Newest, long Sum) written, Func<DrainboardDb, Instant, Task<T>> read)
    {
        var now = clock.GetCurrentInstant();
        asked.Last = new Reading(written, now, Stopwatch.StartNew(), Task.Run(() => ReadAsync(read, now), CancellationToken.None));
        return asked.Last.Answer;
    }

    /// <summary>Begins when the one that runs is over; whoever waits for it had asked before.</summary>
    private async Task<T> AfterAsync(Question asked, Reading running, Func<DrainboardDb, Instant, Task<T>> read)
    {
        await ((Task)running.Answer).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing | ConfigureAwaitOptions.ForceYielding);
        (long, long) written;
        try
        {
            written = await WrittenAsync(CancellationToken.None);
        }
        catch
        {
            lock (_one)
            {
                asked.Next = null;
            }

            throw;
        }

        Task<T> answer;
        lock (_one)
        {
            (asked.Next, answer) = (null, Begin(asked, written, read));
        }

        return await answer;
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

    private async Task<(long Newest, long Sum)> WrittenAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var known = await db.Changes.OrderByDescending(change => change.Sequence).Take(Window)
            .GroupBy(_ => 1).Select(all => new { Newest = all.Max(change => change.Sequence), Sum = all.Sum(change => change.Sequence) }).SingleOrDefaultAsync(stop);
        return (known?.Newest ?? 0, known?.Sum ?? 0);
    }

    private sealed record Reading((long Newest, long Sum) Written, Instant At, Stopwatch Began, Task<T> Answer);

    private sealed class Question
    {
        public Reading? Last { get; set; }

        public Task<T>? Next { get; set; }
    }
}
