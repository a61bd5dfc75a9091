using Drainboard.Data;
using Drainboard.Data.Accounts;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Devices;

public sealed record DeviceView(Guid Id, string Name, string? Station, string? OnlyTail, Instant MadeAt, Instant? EnrolledAt, Instant? RevokedAt, Instant? CodeUntil)
{
    public static DeviceView Of(Device device) => new(device.Id, device.Name, device.Station?.Value, device.OnlyTail.Length == 0 ? null : device.OnlyTail, device.MadeAt, device.EnrolledAt, device.RevokedAt, device.CodeHash is null ? null : device.CodeUntil);
}

public sealed class DevicesQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<DeviceView>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return [.. (await db.Devices.AsNoTracking().OrderBy(device => device.Name).ThenBy(device => device.Id).ToArrayAsync(stop)).Select(DeviceView.Of)];
    }
}
