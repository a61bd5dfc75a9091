using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Handovers;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Handovers;

public sealed class HandoverQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    private const int Newest = 60;

    /// <returns>Null where there is no such station.</returns>
    public async Task<HandoverView?> ReadAsync(StationCode code, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var station = await db.Stations.AsNoTracking().SingleOrDefaultAsync(station => station.Code == code, stop);
        if (station is null)
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        var (from, content) = await new HandoverDraft(db, layouts, station, now).WriteAsync(stop);
        var last = await db.Handovers.AsNoTracking().Where(handover => handover.Station == code).OrderByDescending(handover => handover.SignedAt).FirstOrDefaultAsync(stop);
        return new HandoverView(code.Value, station.Name, station.Zone, now, from, content, content.Hash(), last is null ? null : SignedHandover.Of(last));
    }

    /// <summary>The newest signed handovers of a station.</summary>
    public async Task<IReadOnlyList<SignedHandover>> ReadSignedAsync(StationCode code, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return [.. (await db.Handovers.AsNoTracking().Where(handover => handover.Station == code).OrderByDescending(handover => handover.SignedAt).Take(Newest).ToArrayAsync(stop)).Select(SignedHandover.Of)];
    }

    public async Task<SignedHandover?> ReadSignedAsync(StationCode code, Guid id, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var key = new HandoverId(id);
        return await db.Handovers.AsNoTracking().SingleOrDefaultAsync(handover => handover.Id == key && handover.Station == code, stop) is { } handover ? SignedHandover.Of(handover) : null;
    }
}
