using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Tanks;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Demo;

/// <summary>Ramp servicing of the invented fleet over the last weeks. On layout W3 grey water goes to the waste tank, which is the tighter one there.</summary>
internal sealed class DemoTanks(IDbContextFactory<DrainboardDb> factory, Instant now)
{
    private static readonly (string Layout, int Potable, int Waste, int Precharge, int EverySectors)[] Sizes = [("N1", 200, 170, 10, 2), ("W2", 900, 480, 20, 1), ("W3", 1100, 820, 25, 1)];

    public async Task SaveAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var cast = new DemoCast(await db.Users.AsNoTracking().OrderBy(person => person.UserName).ToArrayAsync(stop));
        List<Deed> deeds = [];
        foreach (var size in Sizes)
        {
            var tanks = new LayoutTanks(size.Layout);
            tanks.Set(size.Potable, size.Waste);
            db.Add(tanks);
            deeds.Add(new Deed(new Fact(ChainKey.Operator, "tanks.sized", Guid.Empty, $"Tanks of layout {size.Layout}: {size.Potable} L potable, {size.Waste} L waste (invented)."), Actor.Installation, now));
        }

        var dice = new Dice(8000);
        var since = now - Duration.FromDays(14);
        foreach (var tail in (await db.Tails.AsNoTracking().ToArrayAsync(stop)).OrderBy(tail => tail.Registration.Value, StringComparer.Ordinal))
        {
            var layout = await db.Layouts.AsNoTracking().SingleAsync(one => one.Id == tail.Layout, stop);
            var size = Sizes.Single(one => one.Layout == layout.Code);
            var (used, made) = (dice.Between(140, 230) / 1000.0, (layout.Code == "W3" ? 0.1 : 0) + (dice.Between(85, 125) / 1000.0));
            var flown = await db.Sectors.AsNoTracking().Where(sector => sector.Tail == tail.Id && sector.Flown && sector.OnBlock > since && sector.OnBlock < now - Duration.FromHours(1)).OrderBy(sector => sector.OnBlock).ToArrayAsync(stop);
            foreach (var legs in flown.Chunk(size.EverySectors))
            {
                var (at, by) = (legs[^1].OnBlock + Duration.FromMinutes(dice.Between(20, 45)), cast.Any(Role.Technician, dice));
                var hours = legs.Sum(leg => (leg.OnBlock - leg.OffBlock).TotalHours) * layout.Seats * dice.Between(75, 95) / 100.0;
                Note(PotableUplift.Record(new TankServiceId(NewId.At(at)), tail, at, Math.Min(size.Potable, (int)(hours * used)), true, $"Water cart {dice.Between(1, 9)}", new ServicePanelCheck(true, true, ""), size.Potable, by, at, out var uplift), by, at);
                Note(WasteService.Record(new TankServiceId(NewId.At(at)), tail, at + Duration.FromMinutes(12), Math.Min(size.Waste, size.Precharge + (int)(hours * made)), size.Precharge, new ServicePanelCheck(true, true, ""), size.Waste, by, at + Duration.FromMinutes(12), out var waste), by, at + Duration.FromMinutes(12));
                db.AddRange(uplift!, waste!);
            }
        }

        await db.SaveAsync(new Writing(Actor.Installation, now, [.. deeds.OrderBy(deed => deed.At)]), stop);

        void Note(Decision decision, Actor by, Instant at) => deeds.Add(new Deed(((Decision.Done)decision).Fact, by, at));
    }
}
