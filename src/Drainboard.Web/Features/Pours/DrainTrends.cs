using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Pours;
using NodaTime;

namespace Drainboard.Web.Features.Pours;

/// <summary>Where drains are heading, from pours that are already read: one meaning of it for every page.</summary>
internal static class DrainTrends
{
    /// <summary>Older pours say nothing of a drain today (our choice).</summary>
    public static readonly Duration LooksBack = Duration.FromDays(365);

    /// <param name="opened">When something on its way was last opened: pours before it tell of another drain.</param>
    /// <returns>The trend, and since when its pours count; null: all of them.</returns>
    public static (DrainTrend Trend, Instant? Since) Of(IEnumerable<Pour> pours, Instant? opened, int slowPercent, Instant now)
    {
        var standing = pours.Where(pour => pour.WithdrawnAt is null && pour.PouredAt >= now - LooksBack).ToArray();
        var cleaned = standing.Where(pour => pour.IsReference).Max(pour => (Instant?)pour.PouredAt);
        var since = cleaned > opened || opened is null ? cleaned ?? opened : opened;
        return (DrainTrend.Of([.. standing.Where(pour => (since is null || pour.PouredAt >= since) && (pour.IsReference || pour.Openness is not null)).Select(pour => (pour.PouredAt, pour.IsReference ? 1 : pour.Openness!.Value))], slowPercent / 100.0, now), since);
    }

    /// <param name="opened">When each fixture was last opened and something put right there.</param>
    public static IReadOnlyDictionary<Position, DrainTrend> OfAll(CabinLayout layout, IEnumerable<Pour> pours, IReadOnlyDictionary<Position, Instant> opened, int slowPercent, Instant now) => pours
        .GroupBy(pour => pour.Position)
        .ToDictionary(alike => alike.Key, alike => Of(alike, CabinDrains.PathOf(layout, alike.Key).Select(node => opened.TryGetValue(node.Position, out var at) ? at : (Instant?)null).Max(), slowPercent, now).Trend);
}
