using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Recurrence;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Turns;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using NodaTime;

namespace Drainboard.Data.Recurrence;

/// <summary>
/// Keeps the repeat flag of every write-up what the rule says of the facts: in the save that changes them, whoever saves. A write-up that
/// comes late, is sorted anew, joined or taken back, and a flight that is put right, bear on those recorded after them too.
/// </summary>
internal sealed class RepeatFlags(DrainboardDb db)
{
    /// <summary>Judges anew what the tracked changes bear on.</summary>
    public async Task FollowAsync(CancellationToken stop)
    {
        var (defects, sectors) = (db.ChangeTracker.Entries<Defect>().Where(Bears).ToArray(), db.ChangeTracker.Entries<Sector>().Where(Bears).ToArray());
        if (defects.Length == 0 && sectors.Length == 0)
        {
            return;
        }

        var rule = RepeatRule.Find(await db.ShareRuleAsync(stop) ?? "");
        var touched = defects.SelectMany(Touched).Concat(rule.Unit == RepeatWindow.Sectors ? sectors.SelectMany(Touched) : []);
        foreach (var tail in touched.GroupBy(one => one.Tail))
        {
            var places = tail.Any(one => one.Position is null) ? null : tail.Select(one => one.Position!.Value).ToHashSet();
            await JudgeAsync(rule, tail.Key, places, tail.Min(one => one.At), tail.Max(one => one.At), stop);
        }
    }

    /// <summary>Judges every write-up of one tail by what is stored; what differs is changed and left to be saved.</summary>
    /// <returns>How many differed.</returns>
    public async Task<int> RecountAsync(RepeatRule rule, TailId tail, CancellationToken stop)
    {
        var filed = await db.Defects.AsNoTracking().Where(defect => defect.Tail == tail).Select(defect => new Filed(defect.Id, defect.Position, defect.Symptom, defect.RecordedAt, defect.ClosedAt, defect.Closure, defect.Repeat)).ToArrayAsync(stop);
        var judge = new TailWriteUps(
            rule,
            ids => CausesAsync(ids, stop),
            async (from, until) => await Flown(tail, from, until).AsNoTracking().Where(sector => sector.Flown).Select(sector => sector.OnBlock).ToArrayAsync(stop));
        var differing = (await judge.DifferingAsync(filed, _ => true)).ToDictionary(one => one.Id, one => one.Flag);
        foreach (var part in differing.Keys.Chunk(500))
        {
            foreach (var defect in await db.Defects.Where(defect => part.Contains(defect.Id)).ToArrayAsync(stop))
            {
                defect.Flag(differing[defect.Id]);
            }
        }

        return differing.Count;
    }

    /// <summary>Those of some tails on which a stored flag is not what the rule says: read together and without a lock, so that a look at a whole fleet holds nobody up.</summary>
    public async Task<IReadOnlyList<TailId>> DifferingAsync(RepeatRule rule, IReadOnlyCollection<TailId> tails, CancellationToken stop)
    {
        var filed = (await db.Defects.AsNoTracking().Where(defect => tails.Contains(defect.Tail)).Select(defect => new { defect.Tail, One = new Filed(defect.Id, defect.Position, defect.Symptom, defect.RecordedAt, defect.ClosedAt, defect.Closure, defect.Repeat) }).ToArrayAsync(stop)).ToLookup(row => row.Tail, row => row.One);
        var flown = rule.Unit == RepeatWindow.Sectors ? (await db.Sectors.AsNoTracking().Where(sector => tails.Contains(sector.Tail) && sector.Flown).Select(sector => new { sector.Tail, sector.OnBlock }).ToArrayAsync(stop)).ToLookup(sector => sector.Tail, sector => sector.OnBlock) : null;
        var differing = new List<TailId>();
        foreach (var tail in filed)
        {
            var judge = new TailWriteUps(rule, ids => CausesAsync(ids, stop), (from, until) => Task.FromResult<IReadOnlyList<Instant>>([.. flown![tail.Key].Where(on => on >= from && on <= until)]));
            if ((await judge.DifferingAsync(tail, _ => true)).Count > 0)
            {
                differing.Add(tail.Key);
            }
        }

        return differing;
    }

    private async Task JudgeAsync(RepeatRule rule, TailId tail, HashSet<Position>? places, Instant from, Instant until, CancellationToken stop)
    {
        var (first, last) = (rule.LooksBackTo(from), until + (until - rule.LooksBackTo(until)));
        var near = db.Defects.Where(defect => defect.Tail == tail && defect.RecordedAt >= first && defect.RecordedAt <= last);
        await (places is null ? near : near.Where(defect => places.Contains(defect.Position))).LoadAsync(stop);
        var known = Tracked<Defect>().Where(defect => defect.Tail == tail && places?.Contains(defect.Position) != false).ToDictionary(defect => defect.Id);
        var judge = new TailWriteUps(
            rule,
            async ids =>
            {
                await Causes(ids).LoadAsync(stop);
                return Tracked<WorkDone>().Where(work => work.Outcome is { } outcome && outcome != WorkOutcome.NotRectified).DistinctBy(work => work.Defect).ToDictionary(work => work.Defect, work => work.Found);
            },
            async (since, to) =>
            {
                await Flown(tail, since, to).LoadAsync(stop);
                return [.. Tracked<Sector>().Where(sector => sector.Tail == tail && sector.Flown && sector.OnBlock >= since && sector.OnBlock <= to).Select(sector => sector.OnBlock)];
            });
        foreach (var (id, flag) in await judge.DifferingAsync(known.Values.Select(Filed.Of), one => one.RecordedAt >= from && one.RecordedAt <= last))
        {
            known[id].Flag(flag);
        }
    }

    private IQueryable<WorkDone> Causes(IReadOnlyCollection<DefectId> ids) => db.Work.Where(work => ids.Contains(work.Defect));

    // In parts: a statement takes only so many values.
    private async Task<IReadOnlyDictionary<DefectId, Found>> CausesAsync(IReadOnlyCollection<DefectId> ids, CancellationToken stop)
    {
        var causes = new Dictionary<DefectId, Found>();
        foreach (var some in ids.Chunk(1000))
        {
            foreach (var work in await Causes(some).AsNoTracking().Where(work => work.Outcome != null && work.Outcome != WorkOutcome.NotRectified).Select(work => new { work.Defect, work.Found }).ToArrayAsync(stop))
            {
                causes[work.Defect] = work.Found;
            }
        }

        return causes;
    }

    private IQueryable<Sector> Flown(TailId tail, Instant from, Instant until) => db.Sectors.Where(sector => sector.Tail == tail && sector.OnBlock >= from && sector.OnBlock <= until);

    private IEnumerable<T> Tracked<T>()
        where T : class => db.ChangeTracker.Entries<T>().Where(entry => entry.State != EntityState.Deleted).Select(entry => entry.Entity);

    private static bool Bears(EntityEntry<Defect> entry) => entry.State == EntityState.Added
        || (entry.State == EntityState.Modified && (entry.Property(defect => defect.Symptom).IsModified || entry.Property(defect => defect.RecordedAt).IsModified || entry.Property(defect => defect.Closure).IsModified));

    private static bool Bears(EntityEntry<Sector> entry) => entry.State is EntityState.Added or EntityState.Modified or EntityState.Deleted && (entry.Entity.Flown || entry.Property(sector => sector.Flown).OriginalValue);

    private static IEnumerable<(TailId Tail, Position? Position, Instant At)> Touched(EntityEntry<Defect> entry) =>
        [(entry.Entity.Tail, entry.Entity.Position, entry.Entity.RecordedAt), (entry.Entity.Tail, entry.Entity.Position, entry.Property(defect => defect.RecordedAt).OriginalValue)];

    private static IEnumerable<(TailId Tail, Position? Position, Instant At)> Touched(EntityEntry<Sector> entry) =>
        [(entry.Entity.Tail, null, entry.Entity.OnBlock), (entry.Property(sector => sector.Tail).OriginalValue, null, entry.Property(sector => sector.OnBlock).OriginalValue)];
}
