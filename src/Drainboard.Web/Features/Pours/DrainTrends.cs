using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.Pours;
using NodaTime;

namespace Drainboard.Web.Features.Pours;

/// <summary>Where drains are heading, from pours that are already read: one meaning of it for every page.</summary>
internal static class DrainTrends
{
    /// <summary>Older pours say nothing of a drain today: strainers are cleaned more often than that (our choice).</summary>
    public static readonly Duration LooksBack = Duration.FromDays(120);

    /// <param name="opened">When something on its way was last opened: pours before it tell of another drain.</param>
    /// <returns>The trend, and since when its pours count; null: all of them.</returns>
    public static (DrainTrend Trend, Instant? Since) Of(IEnumerable<Pour> pours, Instant? opened, int slowPercent, Instant now)
    {
        var standing = pours.Where(pour => pour.WithdrawnAt is null && pour.PouredAt >= now - LooksBack).ToArray();
        var cleaned = standing.Where(pour => pour.IsReference).Max(pour => (Instant?)pour.PouredAt);
        var since = cleaned > opened || opened is null ? cleaned ?? opened : opened;
        return (DrainTrend.Of([.. standing.Where(pour => (since is null || pour.PouredAt >= since) && (pour.IsReference || pour.Openness is not null)).Select(pour => (pour.PouredAt, pour.IsReference ? 1 : pour.Openness!.Value))], slowPercent / 100.0, now), since);
    }

    /// <summary>What the pours of each fixture call for: the newest is slow, or they fall and meet the limit.</summary>
    /// <param name="opened">When each fixture was last opened and something put right there.</param>
    public static IReadOnlyDictionary<Position, DrainCall> Calls(CabinLayout layout, IEnumerable<Pour> pours, IReadOnlyDictionary<Position, Instant> opened, int slowPercent, Instant now)
    {
        var calls = new Dictionary<Position, DrainCall>();
        foreach (var alike in pours.Where(pour => pour.WithdrawnAt is null).GroupBy(pour => pour.Position))
        {
            var last = CabinDrains.PathOf(layout, alike.Key).Select(node => opened.TryGetValue(node.Position, out var at) ? at : (Instant?)null).Max();
            var newest = alike.MaxBy(pour => pour.PouredAt)!;
            if (last is null || newest.PouredAt > last)
            {
                calls[alike.Key] = new DrainCall(newest.PouredAt, newest.Result == PourResult.Slow, Of(alike, last, slowPercent, now).Trend.Crosses);
            }
        }

        return calls;
    }
}
