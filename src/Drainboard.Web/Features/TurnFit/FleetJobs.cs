using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.TurnFit;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.TurnFit;

/// <summary>This fleet's newest jobs, read once in a while: a job more moves no estimate that a page shows.</summary>
public sealed class FleetJobs(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock) : IDisposable
{
    /// <summary>Enough for every kind of job, and about the fleet of now (our choice).</summary>
    public const int Newest = 4000;

    private static readonly Duration GoodFor = Duration.FromMinutes(10);

    private readonly SemaphoreSlim _one = new(1, 1);
    private (Instant At, FitBook Book)? _last;

    public async ValueTask<FitBook> GetAsync(CancellationToken stop)
    {
        await _one.WaitAsync(stop);
        try
        {
            var now = clock.GetCurrentInstant();
            if (_last is { } last && now >= last.At && now - last.At < GoodFor)
            {
                return last.Book;
            }

            var book = await ReadAsync(stop);
            _last = (now, book);
            return book;
        }
        finally
        {
            _one.Release();
        }
    }

    /// <summary>Forgets what it knows: the terms have changed.</summary>
    public void Forget() => _last = null;

    public void Dispose() => _one.Dispose();

    /// <summary>The jobs finished before an instant, newest first.</summary>
    internal static async Task<IReadOnlyList<TimedJob>> JobsAsync(DrainboardDb db, LayoutCatalog layouts, Instant before, CancellationToken stop)
    {
        var cabins = new Dictionary<TailId, CabinLayout>();
        foreach (var tail in await db.Tails.AsNoTracking().Select(tail => new { tail.Id, tail.Layout }).ToArrayAsync(stop))
        {
            cabins[tail.Id] = await layouts.GetAsync(tail.Layout, stop);
        }

        var rows = await (from work in db.Work.AsNoTracking()
                          where work.Outcome != null && work.Outcome != WorkOutcome.NotRectified && work.CompletedAt < before
                          join defect in db.Defects.AsNoTracking() on work.Defect equals defect.Id
                          orderby work.CompletedAt descending
                          select new { work.Tail, work.Position, work.FoundAt, work.Found, work.Minutes, work.CompletedAt, defect.Symptom }).Take(Newest).ToArrayAsync(stop);
        return
        [
            .. from row in rows
               let cabin = cabins.GetValueOrDefault(row.Tail)
               let fixture = cabin?.Find(row.Position)
               let place = cabin?.Find(row.FoundAt)
               where fixture is not null && place is not null
               select new TimedJob(row.CompletedAt, new PastJob(cabin!.Code, fixture.Kind, row.Symptom.Family(), JobKinds.Of(fixture.Kind, place.Kind, row.Found), row.Minutes > 0 ? row.Minutes : null)),
        ];
    }

    private async Task<FitBook> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var terms = await db.Installations.AsNoTracking().Select(installation => installation.Fit).SingleOrDefaultAsync(stop) ?? FitTerms.Usual;
        return new FitBook(new JobTimes((await JobsAsync(db, layouts, Instant.MaxValue, stop)).Select(job => job.Job), terms), terms);
    }
}

internal sealed record TimedJob(Instant At, PastJob Job);
