using Drainboard.Data;
using Drainboard.Domain.OnBoard;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.PotableWater;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.OnBoard;

/// <summary>What is known of one tail's fixtures now, for those on board: what may be used, what is carried, what was seen on the last sectors.</summary>
/// <param name="WaterNotServed">Tap water is neither served nor used.</param>
public sealed record CabinNow(string Registration, Instant AsOf, bool WaterNotServed, IReadOnlyList<CabinState> Fixtures);

/// <summary>A fixture about which something is known; the rest is usable as far as is known.</summary>
public sealed record CabinState(string Position, FixtureUse Use, IReadOnlyList<CabinKnown> Known);

/// <param name="SectorsAgo">How many sectors were flown since it was last seen; null where the flights are not known.</param>
/// <param name="Placard">The words of the placard, where it is carried and one is fitted.</param>
/// <param name="PlacardWhere">Where that placard is.</param>
public sealed record CabinKnown(Guid Id, string Reference, Symptom Symptom, LeakAnswer Leak, DefectState State, Instant SeenAt, int? SectorsAgo, string? Basis, string? Placard, string? PlacardWhere, IReadOnlyList<string> Conditions, Instant? DueAt);

public sealed class CabinNowQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    public async Task<CabinNow?> ReadAsync(Registration mark, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var tail = await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, stop);
        if (tail is null)
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        var layout = await layouts.GetAsync(tail.Layout, stop);
        var defects = await db.Defects.AsNoTracking().Where(defect => defect.Tail == tail.Id && defect.State != DefectState.Closed).OrderBy(defect => defect.RecordedAt).ToArrayAsync(stop);
        var carried = defects.Select(defect => defect.Deferral).OfType<DeferralId>().ToArray();
        var deferrals = await db.Deferrals.AsNoTracking().Where(deferral => carried.Contains(deferral.Id)).ToDictionaryAsync(deferral => deferral.Defect, stop);
        var since = defects.Select(defect => defect.SeenAt).DefaultIfEmpty(now).Min();
        var flown = await db.Sectors.AsNoTracking().Where(sector => sector.Tail == tail.Id && sector.OffBlock > since && sector.OnBlock <= now).Select(sector => sector.OffBlock).ToArrayAsync(stop);
        var water = await WaterRestrictions.ReadAsync(db, [tail.Id], now, stop);
        return new CabinNow(mark.Value, now, water.Count > 0,
        [
            .. from defect in defects
               let fixture = layout.Find(defect.Position)
               where fixture is not null && fixture.Kind.IsUsedOnBoard()
               let known = (defect, deferral: deferrals.GetValueOrDefault(defect.Id) is { IsRunning: true } running ? running : null)
               group known by defect.Position into here
               select new CabinState(here.Key.Value, FixtureUses.Worst(here.Select(one => FixtureUses.Of(one.defect.Symptom, one.defect.Leak, one.deferral is not null))), [.. here.Select(one => Known(mark, one.defect, one.deferral, flown))]),
        ]);
    }

    private static CabinKnown Known(Registration mark, Defect defect, Deferral? deferral, Instant[] flown) => new(
        defect.Id.Value, $"{mark} {defect.Number}", defect.Symptom, defect.Leak, defect.State, defect.SeenAt, flown.Length == 0 ? null : flown.Count(off => off > defect.SeenAt),
        deferral?.BasisCode, deferral is { PlacardFitted: true } ? deferral.Basis.PlacardText : null, deferral is { PlacardFitted: true } ? deferral.PlacardWhere : null,
        deferral is null ? [] : [.. deferral.Conditions.Where(condition => condition.Kind == ConditionKind.Operational).Select(condition => condition.Words)], deferral?.DueAt);
}
