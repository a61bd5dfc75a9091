using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Live;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>
/// Works out everybody's standing over the last year and replaces the old snapshot whole. Counts come from the database by fixture and by
/// tail, so that memory is bound by the fleet and not by its history.
/// </summary>
public sealed class StandingsMaker(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock, ChangeFeed feed, ILogger<StandingsMaker> log) : IDisposable
{
    /// <summary>Long enough for rare faults, short enough to be about the fleet of now (our choice). One window, so that nobody looks until it fits.</summary>
    public static readonly Duration Window = Duration.FromDays(365);

    // Read together, the rows of many tails are read once in the order in which they lie; more would only take more memory.
    private const int Together = 100;

    // While the database reads some tails, others are judged.
    private const int AtOnce = 2;

    // Who asks for one while another is being made waits for that one.
    private readonly SemaphoreSlim _one = new(1, 1);

    /// <summary>Makes a new snapshot; null where another process has made this one meanwhile.</summary>
    /// <param name="progress">Told in words what is being done.</param>
    public async Task<StandingSnapshot?> RunAsync(IProgress<string>? progress, CancellationToken stop)
    {
        await _one.WaitAsync(stop);
        try
        {
            return await MakeAsync(progress, stop);
        }
        finally
        {
            _one.Release();
        }
    }

    /// <summary>Whether there is something to judge, and no snapshot of this day (UTC) yet.</summary>
    public async Task<bool> IsDueAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var last = await db.StandingSnapshots.AsNoTracking().OrderByDescending(snapshot => snapshot.Number).FirstOrDefaultAsync(stop);
        return await db.Defects.AnyAsync(stop) && (last is null || last.At.InUtc().Date < clock.GetCurrentInstant().InUtc().Date);
    }

    private async Task<StandingSnapshot?> MakeAsync(IProgress<string>? progress, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        await using var db = await factory.CreateDbContextAsync(stop);
        var from = Instant.Max(now - Window, await FleetExposure.RecordBeganAsync(db, now, stop));
        await RecountAsync([.. await db.Tails.Select(tail => tail.Id).ToArrayAsync(stop)], progress, stop);
        progress?.Report("Reading what has flown");
        var fleet = await FleetExposure.ReadAsync(db, layouts, from, now, stop);
        progress?.Report("Counting write-ups");
        var writeUps = await WriteUps(db, from, now).GroupBy(defect => new { defect.Tail, defect.Position, defect.Symptom }).Select(same => new { same.Key.Tail, same.Key.Position, same.Key.Symptom, Count = same.Count() }).ToArrayAsync(stop);
        var faults = writeUps.GroupBy(one => (one.Tail, one.Position, Family: one.Symptom.Family())).ToDictionary(group => group.Key, group => group.Sum(one => one.Count));
        var found = (await db.Work.AsNoTracking().Where(work => work.CompletedAt >= from && work.CompletedAt < now && work.Outcome != null && work.Outcome != WorkOutcome.NotRectified && work.Found != Found.Nothing)
            .GroupBy(work => new { work.Tail, work.FoundAt }).Select(same => new { same.Key.Tail, same.Key.FoundAt, Count = same.Count() }).ToArrayAsync(stop)).ToDictionary(one => (one.Tail, one.FoundAt), one => one.Count);
        progress?.Report("Testing each against its fleet");
        var (ranked, tested) = Standings.Judge(Fixtures(fleet, faults).Concat(Places(fleet, found)));
        stop.ThrowIfCancellationRequested();
        progress?.Report($"Storing {ranked.Count} standings");
        var snapshot = new StandingSnapshot((await db.StandingSnapshots.MaxAsync(one => (int?)one.Number, stop) ?? 0) + 1, now, from, fleet.Unit, tested, fleet.LeftOut, ranked);
        try
        {
            await db.ReplaceStandingsAsync(snapshot, ranked, stop);
        }
        catch (DbUpdateException failure) when (db.IsDuplicateKey(failure))
        {
            return null;
        }

        feed.Ring();
        return snapshot;
    }

    // Every save keeps the flags: one that differs is a fault of ours, and is said.
    private async Task RecountAsync(IReadOnlyList<TailId> tails, IProgress<string>? progress, CancellationToken stop)
    {
        var (judged, differed) = (0, 0);
        await Parallel.ForEachAsync(tails.Chunk(Together), new ParallelOptions { MaxDegreeOfParallelism = AtOnce, CancellationToken = stop }, async (some, given) =>
        {
            await using var db = await factory.CreateDbContextAsync(given);
            foreach (var tail in await db.TailsToRecountAsync(some, given))
            {
                Interlocked.Add(ref differed, await db.RecountRepeatsAsync(tail, given));
            }

            progress?.Report($"Judging write-ups: {Interlocked.Add(ref judged, some.Length)} of {tails.Count} tails");
        });

        if (differed > 0)
        {
            log.LogWarning("{Differed} repeat flags were not what the rule says of the facts, and were put right", differed);
        }
    }

    public void Dispose() => _one.Dispose();

    /// <summary>The write-ups of a time.</summary>
    internal static IQueryable<Defect> WriteUps(DrainboardDb db, Instant from, Instant until) =>
        db.Defects.AsNoTracking().Where(defect => defect.RecordedAt >= from && defect.RecordedAt < until && Closures.OfWriteUps.Contains(defect.Closure));

    private static StandingFleet[] Fixtures(FleetExposure fleet, Dictionary<(TailId, Position, SymptomFamily), int> faults)
    {
        var fleets = new Dictionary<(string Layout, FixtureKind Kind, SymptomFamily Family), StandingFleet>();
        foreach (var (tail, layout, exposure) in fleet.Tails)
        {
            foreach (var fixture in layout.Fixtures.Where(fixture => fixture.Kind.IsUsedOnBoard()))
            {
                foreach (var family in FamiliesAt(fixture.Kind))
                {
                    var key = (layout.Code, fixture.Kind, family);
                    if (!fleets.TryGetValue(key, out var like))
                    {
                        fleets[key] = like = new StandingFleet();
                    }

                    var events = faults.GetValueOrDefault((tail, fixture.Position, family));
                    like.Add(events == 0 ? Nobody : new StandingSubject(StandingScope.Fixture, tail, layout.Code, fixture.Position, fixture.Kind, family), events, exposure);
                }
            }
        }

        return [.. fleets.Values];
    }

    // Those without a fault are counted, not named.
    private static readonly StandingSubject Nobody = new(StandingScope.Fixture, null, "", default, default, null);

    private static readonly Dictionary<FixtureKind, SymptomFamily[]> Families = Enum.GetValues<FixtureKind>().ToDictionary(kind => kind, kind => Symptoms.At(kind).Select(symptom => symptom.Family()).Distinct().ToArray());

    private static SymptomFamily[] FamiliesAt(FixtureKind kind) => Families[kind];

    private static IEnumerable<StandingFleet> Places(FleetExposure fleet, Dictionary<(TailId, Position), int> found)
    {
        var places = new Dictionary<(string Layout, Position Position), (FixtureKind Kind, int Events, double Exposure)>();
        foreach (var (tail, layout, exposure) in fleet.Tails)
        {
            foreach (var node in layout.Fixtures)
            {
                var (_, events, flown) = places.GetValueOrDefault((layout.Code, node.Position));
                places[(layout.Code, node.Position)] = (node.Kind, events + found.GetValueOrDefault((tail, node.Position)), flown + exposure);
            }
        }

        return places.GroupBy(place => place.Value.Kind).Select(kind =>
        {
            var like = new StandingFleet();
            foreach (var (key, place) in kind)
            {
                like.Add(new StandingSubject(StandingScope.Place, null, key.Layout, key.Position, place.Kind, null), place.Events, place.Exposure);
            }

            return like;
        });
    }
}
