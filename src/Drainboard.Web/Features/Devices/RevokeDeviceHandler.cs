using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Devices;

/// <summary>A lost tablet: from now on it opens nothing. What it has not sent stays on it.</summary>
public sealed class RevokeDeviceHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, Guid id, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ManageDevices, new { id }, async attempt =>
        {
            var device = await attempt.Db.Devices.SingleOrDefaultAsync(device => device.Id == id, attempt.Stop);
            if (device is null)
            {
                return new Answer.NotFound("There is no such device.");
            }

            device.Revoke(attempt.Now);
            attempt.Record(new Fact(ChainKey.Operator, "device.revoked", id, "A device was revoked."));
            return attempt.Done(id, () => device.Version, "Device revoked.");
        }, stop);
}
