using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Devices;

/// <param name="Station">The station it belongs to; or <paramref name="Tail"/>, the aircraft it stays on board of; or neither: the operator's.</param>
/// <param name="Again">The device to enrol anew, after a reset; its name and place stay.</param>
public sealed record MakeDeviceRequest(Guid Id, string Name, string? Station = null, string? Tail = null, Guid? Again = null);

public sealed record NewDeviceBody(Guid Id, string? Code);

/// <summary>Makes a device to be enrolled, with a code that works once.</summary>
public sealed class MakeDeviceHandler(OneDoor door, IDbContextFactory<DrainboardDb> factory)
{
    private const int LongestName = 60;

    /// <summary>The code is null when the same wish is answered a second time: it is shown once.</summary>
    public async Task<(Answer Answer, string? Code)> HandleAsync(Call call, MakeDeviceRequest request, CancellationToken stop)
    {
        var code = Device.NewCode();
        var answer = await door.ChangeAsync(call, Act.ManageDevices, request, attempt => request.Again is { } again ? AgainAsync(attempt, again, code) : MakeAsync(attempt, request, code), stop);
        var hash = ApiKey.HashOf(code);
        await using var db = await factory.CreateDbContextAsync(stop);
        return (answer, answer is Answer.Done && await db.Devices.AnyAsync(device => device.CodeHash == hash, stop) ? code : null);
    }

    private static async Task<Answer> MakeAsync(Attempt attempt, MakeDeviceRequest request, string code)
    {
        var (name, tail, station) = (request.Name.Trim(), Registration.TryParse(request.Tail, out var mark) ? mark : (Registration?)null, StationCode.TryParse(request.Station, out var at) ? at : (StationCode?)null);
        if (name.Length is 0 or > LongestName)
        {
            return new Refusal("name", $"Name the device as it is labelled (up to {LongestName} characters).");
        }

        if (!string.IsNullOrWhiteSpace(request.Tail) && !string.IsNullOrWhiteSpace(request.Station))
        {
            return new Refusal("tail-or-station", "A device belongs to a station or stays on board of one tail, or to the operator: not to two.");
        }

        if (!string.IsNullOrWhiteSpace(request.Tail) && (tail is null || !await attempt.Db.Tails.AnyAsync(row => row.Registration == mark, attempt.Stop)))
        {
            return new Refusal("no-such-tail", $"No tail \"{request.Tail}\" is known here.");
        }

        if (!string.IsNullOrWhiteSpace(request.Station) && (station is null || !await attempt.Db.Stations.AnyAsync(row => row.Code == at, attempt.Stop)))
        {
            return new Refusal("station", $"No station \"{request.Station}\" is known here.");
        }

        attempt.Db.Devices.Add(new Device(request.Id, name, station, tail, code, attempt.Now));
        attempt.Record(new Fact(ChainKey.Operator, "device.made", request.Id, "A device may be enrolled.").With("name", name).With("station", station?.Value).With("tail", tail?.Value));
        return attempt.Done(request.Id, () => 0, "Enter the code on the device within 24 hours.");
    }

    private static async Task<Answer> AgainAsync(Attempt attempt, Guid id, string code)
    {
        var device = await attempt.Db.Devices.SingleOrDefaultAsync(device => device.Id == id, attempt.Stop);
        if (device is null)
        {
            return new Answer.NotFound("There is no such device.");
        }

        if (device.RevokedAt is not null)
        {
            return new Refusal("revoked", "This device was revoked for good. Make a new one.");
        }

        device.EnrolAgain(code, attempt.Now);
        attempt.Record(new Fact(ChainKey.Operator, "device.again", id, "A device may be enrolled anew; its old secret opens nothing."));
        return attempt.Done(id, () => device.Version, "Enter the code on the device within 24 hours.");
    }
}
