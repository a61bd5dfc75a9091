using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Turns;

/// <summary>A flight by its outside key, planned or flown: a delay, a swap of tails or a correction is the same key with other values.</summary>
/// <param name="FlightMinutes">Time in the air; the block time where it is left out.</param>
public sealed record SaveSectorRequest(string Tail, string From, string To, Instant OffBlock, Instant OnBlock, bool Flown, int? FlightMinutes = null);

public sealed class SaveSectorHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, string key, SaveSectorRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ChangeSectors, new { key, request }, attempt => SaveAsync(call, key, request, attempt), stop);

    private static async Task<Answer> SaveAsync(Call call, string key, SaveSectorRequest request, Attempt attempt)
    {
        var db = attempt.Db;
        var tail = Registration.TryParse(request.Tail, out var mark) ? await db.Tails.AsNoTracking().SingleOrDefaultAsync(row => row.Registration == mark, attempt.Stop) : null;
        if (tail is null || !StationCode.TryParse(request.From, out var from) || !StationCode.TryParse(request.To, out var to) || await db.Stations.CountAsync(row => row.Code == from || row.Code == to, attempt.Stop) < (from == to ? 1 : 2))
        {
            return new Refusal("unknown-tail-or-station", "Tail and stations must be known here. Import them first.");
        }

        var (off, on) = (MicrosecondClock.Cut(request.OffBlock), MicrosecondClock.Cut(request.OnBlock));
        if (key.Length > 64 || on <= off || request.FlightMinutes is < 0 or > 2000)
        {
            return key.Length > 64 ? new Refusal("key", "The outside key has up to 64 characters.") : new Refusal("sector-times", "On block lies after off block, and flight time is 0 to 2,000 minutes.");
        }

        if ((request.Flown && on > attempt.Now) || Duration.FromMinutes(request.FlightMinutes ?? 0) > on - off)
        {
            return request.Flown && on > attempt.Now ? new Refusal("not-flown-yet", "On block lies in the future: it is not flown yet.") : new Refusal("sector-times", "Flight time is no more than the time between the blocks.");
        }

        if (tail.WhyNotAt(off) is { } early)
        {
            return early;
        }

        if (await OverlapAsync(attempt, key, tail, off, on) is { } other)
        {
            return new Refusal("overlapping-sectors", $"{mark} is on {other} at that time, and an aircraft is on one flight at a time. Move the other flight first; for a swap of tails or a chain of delays send them together: POST /api/v1/import with sectors.json.");
        }

        var sector = await db.Sectors.SingleOrDefaultAsync(row => row.Key == key, attempt.Stop);
        if (call.SeenVersion is { } seen && seen != (sector?.Version ?? Call.SawNone))
        {
            return new Answer.Stale(sector?.Version ?? 0);
        }

        var before = sector?.Tail;
        var plan = new SectorPlan(from, to, off, on, request.FlightMinutes ?? (int)(on - off).TotalMinutes, request.Flown);
        var isNew = sector is null;
        sector ??= new Sector(new SectorId(NewId.At(attempt.Now)), key, tail.Id, plan);
        if (isNew)
        {
            db.Sectors.Add(sector);
        }

        if (isNew || sector.Set(tail.Id, plan))
        {
            attempt.Record(new Fact(ChainKey.For(tail.Id), "sector.saved", sector.Id.Value, $"Flight {from} to {to} {(plan.Flown ? "flown" : "planned")}.").With("key", key).With("offBlock", off).With("onBlock", on).With("flightMinutes", plan.FlightMinutes));
            foreach (var moved in await ClockKeeper.RederiveAsync(db, [tail.Id, .. before is { } earlier ? [earlier] : Array.Empty<TailId>()], attempt.Stop))
            {
                attempt.Record(moved);
            }
        }

        return attempt.Done(sector.Id.Value, () => sector.Version, "Sector saved.");
    }

    private static async Task<string?> OverlapAsync(Attempt attempt, string key, Tail tail, Instant off, Instant on) =>
        await attempt.Db.Sectors.AsNoTracking().Where(row => row.Tail == tail.Id && row.Key != key && row.OffBlock < on && row.OnBlock > off).Select(row => row.Key).FirstOrDefaultAsync(attempt.Stop);
}
