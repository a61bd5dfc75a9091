using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>A part of the fleet before and after a day: a campaign, a new part, another routine.</summary>
public sealed class ChangeQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    public const int UsualDays = 180;

    /// <summary>As long before the day as after it, up to so many days; null where there is no exposure on one side.</summary>
    public async Task<ChangeView?> ReadAsync(FleetScope scope, LocalDate day, int days, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var (now, at) = (clock.GetCurrentInstant(), day.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant());
        var span = Duration.Min(Duration.Min(Duration.FromDays(Math.Clamp(days, 1, 1830)), now - at), at - await FleetExposure.RecordBeganAsync(db, now, stop));
        if (span <= Duration.Zero)
        {
            return null;
        }

        var cabins = await scope.CabinsAsync(db, layouts, stop);
        var before = await CountAsync(db, scope, cabins, at - span, at, stop);
        var after = await CountAsync(db, scope, cabins, at, at + span, stop);
        var (unit, exposed) = await ExposureAsync(db, cabins, at, span, stop);
        return Changes.Of(at, $"{scope.Layout ?? "the whole fleet"}", before, exposed.Before, after, exposed.After, unit);
    }

    private static async Task<int> CountAsync(DrainboardDb db, FleetScope scope, IReadOnlyDictionary<TailId, CabinLayout> cabins, Instant from, Instant until, CancellationToken stop) =>
        (await scope.WriteUps(db, cabins, from, until).GroupBy(defect => new { defect.Tail, defect.Position }).Select(same => new { same.Key.Tail, same.Key.Position, Count = same.Count() }).ToArrayAsync(stop))
            .Where(one => cabins.TryGetValue(one.Tail, out var cabin) && (scope.Kind is null || cabin.Find(one.Position)?.Kind == scope.Kind)).Sum(one => one.Count);

    private static async Task<(ExposureUnit Unit, (double Before, double After) Exposed)> ExposureAsync(DrainboardDb db, IReadOnlyDictionary<TailId, CabinLayout> cabins, Instant at, Duration span, CancellationToken stop)
    {
        var (from, until, tails) = (at - span, at + span, cabins.Keys.ToArray());
        if (await FleetExposure.HasSectorsSinceAsync(db, from, stop))
        {
            var flown = db.Sectors.Where(sector => tails.Contains(sector.Tail) && sector.Flown);
            return (ExposureUnit.Sectors, (await flown.CountAsync(sector => sector.OnBlock >= from && sector.OnBlock < at, stop), await flown.CountAsync(sector => sector.OnBlock >= at && sector.OnBlock < until, stop)));
        }

        var delivered = (await db.Tails.AsNoTracking().Select(tail => new { tail.Id, tail.DeliveredOn }).ToArrayAsync(stop)).Where(tail => cabins.ContainsKey(tail.Id)).ToArray();
        return (ExposureUnit.Days, (delivered.Sum(tail => FleetExposure.DaysOf(tail.DeliveredOn, from, at)), delivered.Sum(tail => FleetExposure.DaysOf(tail.DeliveredOn, at, until))));
    }
}
