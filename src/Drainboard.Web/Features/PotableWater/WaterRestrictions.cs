using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PotableWater;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

/// <summary>Which tails' water is not served now, and why: one reading for every page that says so.</summary>
internal static class WaterRestrictions
{
    public static async Task<IReadOnlyDictionary<TailId, string>> ReadAsync(DrainboardDb db, IReadOnlyCollection<TailId> tails, Instant now, CancellationToken stop)
    {
        var running = await db.WaterCases.AsNoTracking().Where(one => one.EndedAt == null && tails.Contains(one.Tail)).ToArrayAsync(stop);
        return running.Where(one => one.RestrictsAt(now)).GroupBy(one => one.Tail).ToDictionary(one => one.Key, one => string.Join("; ", one.OrderBy(row => row.ToldAt).Select(row => row.Kind.Words()).Distinct()));
    }
}
