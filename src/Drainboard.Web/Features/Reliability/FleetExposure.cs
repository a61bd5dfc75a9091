using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>
/// What each tail has flown in a time, and its cabin. In sectors where the flown ones are on record for all of that time; else in days on
/// the fleet: faults of a year over the sectors of two months would be no rate.
/// </summary>
internal sealed record FleetExposure(ExposureUnit Unit, IReadOnlyList<(TailId Tail, CabinLayout Layout, double Exposure)> Tails, int LeftOut)
{
    // Tails do not fly every day.
    private static readonly Duration FirstFlownWithin = Duration.FromDays(7);

    public static async Task<FleetExposure> ReadAsync(DrainboardDb db, LayoutCatalog layouts, Instant from, Instant until, CancellationToken stop)
    {
        var tails = await db.Tails.AsNoTracking().Select(tail => new { tail.Id, tail.Layout, tail.DeliveredOn }).ToArrayAsync(stop);
        var unit = await HasSectorsSinceAsync(db, from, stop) ? ExposureUnit.Sectors : ExposureUnit.Days;
        var flown = unit == ExposureUnit.Days ? [] : await db.Sectors.AsNoTracking().Where(sector => sector.Flown && sector.OnBlock >= from && sector.OnBlock < until).GroupBy(sector => sector.Tail).Select(same => new { Tail = same.Key, Count = same.Count() }).ToDictionaryAsync(one => one.Tail, one => (double)one.Count, stop);
        var known = new List<(TailId, CabinLayout, double)>();
        foreach (var tail in tails)
        {
            var exposure = unit == ExposureUnit.Sectors ? flown.GetValueOrDefault(tail.Id) : DaysOf(tail.DeliveredOn, from, until);
            if (exposure > 0)
            {
                known.Add((tail.Id, await layouts.GetAsync(tail.Layout, stop), exposure));
            }
        }

        return new FleetExposure(unit, known, tails.Length - known.Count);
    }

    /// <summary>Whether flown sectors are on record for all of the time since then.</summary>
    public static async Task<bool> HasSectorsSinceAsync(DrainboardDb db, Instant from, CancellationToken stop) =>
        await db.Sectors.AsNoTracking().Where(sector => sector.Flown).MinAsync(sector => (Instant?)sector.OnBlock, stop) <= from + FirstFlownWithin;

    /// <summary>The midnight (UTC) before the first write-up on record, or now where there is none: days that nobody recorded are not days without faults.</summary>
    public static async Task<Instant> RecordBeganAsync(DrainboardDb db, Instant now, CancellationToken stop) =>
        await db.Defects.AsNoTracking().MinAsync(defect => (Instant?)defect.RecordedAt, stop) is { } first ? (first - Duration.FromSeconds(1)).InUtc().Date.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant() : now;

    /// <summary>Days on the fleet within a time.</summary>
    public static double DaysOf(LocalDate? delivered, Instant from, Instant until) =>
        Math.Max(0, (until - Instant.Max(from, delivered?.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant() ?? from)).TotalDays);
}
