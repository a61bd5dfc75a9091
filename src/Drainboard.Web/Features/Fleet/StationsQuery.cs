using Drainboard.Data;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Fleet;

public sealed record StationView(string Code, string Name, string Zone, IReadOnlyList<string> Capabilities, LocalTime StaffedFrom, LocalTime StaffedTo, int SlowPercent, int CarriedMinutes);

public sealed class StationsQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<StationView>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var rows = await db.Stations.AsNoTracking().ToArrayAsync(stop);
        return [.. rows.OrderBy(station => station.Code.Value, StringComparer.Ordinal).Select(station => new StationView(station.Code.Value, station.Name, station.Zone, station.Capabilities, station.StaffedFrom, station.StaffedTo, station.SlowPercent, station.CarriedMinutes))];
    }
}
