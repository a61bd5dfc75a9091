using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Devices;

/// <summary>A device shows the code that an administrator made, and gets a secret of its own.</summary>
public sealed class EnrolDeviceHandler(OneDoor door, IClock clock)
{
    public async Task<(Answer Answer, string Secret)> HandleAsync(string code, CancellationToken stop)
    {
        var (hash, secret) = (Device.HashOfCode(code), ApiKey.NewSecret());
        var answer = await door.ChangeAsync(new Call(Actor.Installation, NewId.At(clock.GetCurrentInstant())), Act.ManageDevices, new { hash }, async attempt =>
        {
            var device = await attempt.Db.Devices.SingleOrDefaultAsync(device => device.CodeHash == hash, attempt.Stop);
            if (device is null)
            {
                return new Refusal("enrolment-code", "This is not a code that waits to be used. Check it letter by letter; each works once, for 24 hours.");
            }

            if (device.Enrol(secret, attempt.Now) is { } no)
            {
                return no;
            }

            attempt.Record(new Fact(ChainKey.Operator, "device.enrolled", device.Id, "A device was enrolled."));
            return attempt.Done(device.Id, () => device.Version, "This device is enrolled.");
        }, stop);
        return (answer, secret);
    }
}
