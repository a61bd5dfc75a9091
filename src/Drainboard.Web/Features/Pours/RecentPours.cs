using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Rectification;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Pours;

/// <summary>
/// The newest pour of each fixture that still says something: not older than a day, and nothing on its way was opened since.
/// </summary>
internal static class RecentPours
{
    /// <summary>Older than this a pour tells of another day's drain (our choice).</summary>
    private static readonly Duration Tells = Duration.FromHours(24);

    public static async Task<Dictionary<Position, Pour>> ReadAsync(DrainboardDb db, TailId tail, CabinLayout layout, Instant now, CancellationToken stop)
    {
        var since = now - Tells;
        var pours = await db.Pours.AsNoTracking().Where(pour => pour.Tail == tail && pour.PouredAt >= since && pour.WithdrawnAt == null).OrderByDescending(pour => pour.PouredAt).ToArrayAsync(stop);
        if (pours.Length == 0)
        {
            return [];
        }

        var opened = await db.Work.AsNoTracking().Where(work => work.Tail == tail && work.CompletedAt >= since && work.Found != Found.Nothing && work.ReturnReason == "").Select(work => new { work.FoundAt, work.CompletedAt }).ToArrayAsync(stop);
        return pours.DistinctBy(pour => pour.Position)
            .Where(pour => CabinDrains.PathOf(layout, pour.Position).Select(node => node.Position).ToHashSet() is var way && !opened.Any(work => work.CompletedAt > pour.PouredAt && way.Contains(work.FoundAt)))
            .ToDictionary(pour => pour.Position);
    }
}
