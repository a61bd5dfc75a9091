using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

/// <summary>The drinking water of every tail: restricted first, then what is over, then in order of what is due. Days and months are of UTC here.</summary>
public sealed class WaterFleetQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    /// <summary>A report is due ten days after the event; what is older was told or will not be told from here.</summary>
    private static readonly Duration ReportsLookBack = Duration.FromDays(60);

    public async Task<WaterFleetView> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var now = clock.GetCurrentInstant();
        var tails = await db.Tails.AsNoTracking().ToArrayAsync(stop);
        var programmes = (await db.WaterProgrammes.AsNoTracking().ToArrayAsync(stop)).GroupBy(row => row.Code).ToDictionary(row => row.Key, row => row.MaxBy(version => version.Number)!, StringComparer.Ordinal);
        var reported = now - ReportsLookBack;
        var recent = (await db.WaterCases.AsNoTracking().Where(one => one.EndedAt == null || one.EndedAt > reported).ToArrayAsync(stop)).ToLookup(one => one.Tail);

        // Of each kind and item the newest counts; a deficiency counts until it is put right.
        var deeds = (await db.WaterDeeds.AsNoTracking().Where(deed => deed.VoidedAt == null && (deed.Kind == WaterDeedKind.DeficiencyFound || deed.Kind == WaterDeedKind.DeficiencyCorrected
            || !db.WaterDeeds.Any(later => later.VoidedAt == null && later.Tail == deed.Tail && later.Kind == deed.Kind && later.Item == deed.Item && later.At > deed.At))).ToArrayAsync(stop)).ToLookup(deed => deed.Tail);
        var sampled = await db.SampleSets.AsNoTracking().Where(set => set.Purpose == SamplePurpose.Routine && set.VoidedAt == null).GroupBy(set => set.Tail).Select(tail => new { tail.Key, At = tail.Max(set => set.CollectedAt) }).ToDictionaryAsync(one => one.Key, one => one.At, stop);
        var hours = await HoursAsync(db, tails, programmes, deeds, now, stop);
        var lines = new List<WaterLine>();
        foreach (var tail in tails)
        {
            var programme = programmes.GetValueOrDefault(tail.WaterProgramme);
            var dues = programme is null ? [] : WaterDues.Of(programme.Terms, [.. deeds[tail.Id]], sampled.TryGetValue(tail.Id, out var at) ? at : null, hours.GetValueOrDefault(tail.Id, new FlightHours([])).Since, DateTimeZone.Utc, now);
            var cases = recent[tail.Id].Where(one => one.IsRunning).OrderBy(one => one.ToldAt).ToArray();
            lines.Add(new WaterLine(tail.Registration.Value, (await layouts.GetAsync(tail.Layout, stop)).Code, programme?.Words, cases.Any(one => one.RestrictsAt(now)), [.. cases.Select(one => one.Kind.Words()), .. recent[tail.Id].Where(one => !one.IsRunning && one.Done.All(step => step.Act != WaterAct.Report)).Select(one => $"{one.Kind.Words()} (ended, not reported yet)")], NextAction(recent[tail.Id], deeds[tail.Id]), dues is [var first, ..] ? first : null, dues.Count(due => due.IsOver)));
        }

        return new WaterFleetView(now, [.. lines.OrderByDescending(line => line.Restricted).ThenByDescending(line => line.Runs.Count > 0).ThenByDescending(line => line.Over > 0).ThenBy(line => line.Next?.DueAt ?? Instant.MaxValue).ThenBy(line => line.Tail, StringComparer.Ordinal)]);
    }

    // The next time by which something that a case asks for by hand, or a disinfection, is to be done.
    private static Instant? NextAction(IEnumerable<WaterCase> cases, IEnumerable<WaterDeed> deeds)
    {
        var disinfected = deeds.Where(deed => deed.Kind == WaterDeedKind.DisinfectedAndFlushed).Select(deed => (Instant?)deed.At).Max();
        return (from one in cases
                from action in one.Actions
                where action.DueAt is not null && (one.IsRunning || action.Act == WaterAct.Report) && !(action.Act == WaterAct.RepeatSamples && one.RepeatsAt is not null) && one.Done.All(step => step.Act != action.Act) && !(action.Act == WaterAct.DisinfectAndFlush && disinfected >= one.ToldAt)
                select action.DueAt).Min();
    }

    /// <summary>The flights of those tails that something is counted in flight hours on, since that was last done.</summary>
    private static async Task<Dictionary<TailId, FlightHours>> HoursAsync(DrainboardDb db, Tail[] tails, Dictionary<string, WaterProgramme> programmes, ILookup<TailId, WaterDeed> deeds, Instant now, CancellationToken stop)
    {
        var since = (from tail in tails
                     let counted = programmes.GetValueOrDefault(tail.WaterProgramme)?.Terms.Items.Where(item => item.EveryHours is not null).Select(item => item.Key).ToArray() ?? []
                     let first = deeds[tail.Id].Where(deed => counted.Contains(deed.Item)).Select(deed => (Instant?)deed.At).Min()
                     where first is not null
                     select (tail.Id, First: first.Value)).ToDictionary(one => one.Id, one => one.First);
        if (since.Count == 0)
        {
            return [];
        }

        var (earliest, ids) = (since.Values.Min(), since.Keys.ToArray());
        var flown = await db.Sectors.AsNoTracking().Where(sector => ids.Contains(sector.Tail) && sector.Flown && sector.OnBlock > earliest && sector.OffBlock <= now).ToArrayAsync(stop);
        return flown.GroupBy(sector => sector.Tail).ToDictionary(tail => tail.Key, tail => new FlightHours(tail.Where(sector => sector.OnBlock > since[tail.Key])));
    }
}
