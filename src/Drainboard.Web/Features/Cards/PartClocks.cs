using Drainboard.Data;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Cards;

/// <summary>The clocks of parts fitted without a release certificate.</summary>
internal static class PartClocks
{
    /// <summary>Parts whose clock runs, as a condition of the database: what <see cref="Part.IsOnLimit"/> says of one.</summary>
    public static IQueryable<Part> OnLimit(this IQueryable<Part> parts) => parts.Where(part => part.State == PartState.Fitted && part.NeedsCertificate && part.Certificate == "");

    public static async Task<IReadOnlyDictionary<PartId, PartClock>> ReadAsync(DrainboardDb db, IEnumerable<Part> parts, Instant now, CancellationToken stop)
    {
        var limited = parts.Where(part => part.IsOnLimit).ToArray();
        var clocks = new Dictionary<PartId, PartClock>();
        if (limited.Length == 0)
        {
            return clocks;
        }

        var main = (await db.Stations.AsNoTracking().ToArrayAsync(stop)).Where(station => Abilities.Of(station.Capabilities).HasFlag(Ability.MainBase)).Select(station => station.Code).ToHashSet();
        foreach (var tail in limited.GroupBy(part => part.Tail))
        {
            var since = tail.Min(part => part.At);
            var sectors = await Flights.SinceAsync(db, tail.Key, since, stop);
            var stays = await db.Turns.AsNoTracking().Where(turn => turn.Tail == tail.Key && turn.EstimatedDeparture > since).ToArrayAsync(stop);
            var returns = stays.Where(turn => main.Contains(turn.Station)).Select(turn => turn.ArrivesAt).ToArray();
            foreach (var part in tail)
            {
                clocks[part.Id] = PartClock.Read(part.At, sectors, returns, now);
            }
        }

        return clocks;
    }
}
