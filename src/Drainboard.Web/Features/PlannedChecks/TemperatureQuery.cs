using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PlannedChecks;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PlannedChecks;

/// <param name="Holding">The newest measured one and the lowest that is expected, while they hold.</param>
public sealed record StationTemperatureView(string Station, string StationName, string Zone, IReadOnlyList<TemperatureView> Holding, Instant Now);

public sealed class TemperatureQuery(IDbContextFactory<DrainboardDb> factory, IClock clock)
{
    /// <returns>Null where there is no such station.</returns>
    public async Task<StationTemperatureView?> ReadAsync(StationCode code, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var station = await db.Stations.AsNoTracking().SingleOrDefaultAsync(row => row.Code == code, stop);
        var now = clock.GetCurrentInstant();
        return station is null ? null : new StationTemperatureView(code.Value, station.Name, station.Zone, [.. StandTemperature.Holding(await Rounds.ToldAsync(db, [code], now, stop), now).OrderBy(told => told.IsExpected).Select(TemperatureView.Of)], now);
    }
}
