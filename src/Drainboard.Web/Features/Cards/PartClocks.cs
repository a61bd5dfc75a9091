using Drainboard.Data;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Cards;

/// <summary>The clocks of parts fitted without a release certificate, in three statements whatever their number.</summary>
internal static class PartClocks
{
    /// <summary>Parts whose clock runs, as a condition of the database: what <see cref="Part.IsOnLimit"/> says of one.</summary>
    public static IQueryable<Part> OnLimit(this IQueryable<Part> parts) => parts.Where(part => part.State == PartState.Fitted && part.NeedsCertificate && part.Certificate == "");

    public static async Task<IReadOnlyDictionary<PartId, PartClock>> ReadAsync(DrainboardDb db, IEnumerable<Part> parts, Instant now, CancellationToken stop)
    {
        var limited = parts.Where(part => part.IsOnLimit).ToArray();
        if (limited.Length == 0)
        {
            return new Dictionary<PartId, PartClock>();
        }

        var main = (await db.Stations.AsNoTracking().ToArrayAsync(stop)).Where(station => Abilities.Of(station.Capabilities).HasFlag(Ability.MainBase)).Select(station => station.Code).ToArray();
        var (tails, since) = (limited.Select(part => part.Tail).Distinct().ToArray(), limited.Min(part => part.At));
        var sectors = await Flights.SinceAsync(db, tails, since, stop);
        var stays = (await db.Turns.AsNoTracking().Where(turn => tails.Contains(turn.Tail) && main.Contains(turn.Station) && turn.EstimatedDeparture > since).ToArrayAsync(stop)).ToLookup(turn => turn.Tail);
        return limited.ToDictionary(part => part.Id, part => PartClock.Read(part.At, [.. sectors[part.Tail].Where(sector => sector.OnBlock > part.At)], stays[part.Tail].Where(turn => turn.EstimatedDeparture > part.At).Select(turn => turn.ArrivesAt), now));
    }
}
