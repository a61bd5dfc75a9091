using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Demo;

/// <summary>
/// Invented sectors from sixty days back to thirty ahead, out and back from the hub, with turns from yesterday on. Turn and sector
/// lengths follow common practice for each layout; nights are spent on the ground.
/// </summary>
internal sealed class DemoSchedule(IDbContextFactory<DrainboardDb> factory, Instant now)
{
    private static readonly Dictionary<string, (int Sector, int Spread, int Turn, int TurnSpread)> Pace = new()
    {
        ["N1"] = (60, 90, 35, 25),
        ["W2"] = (360, 180, 75, 45),
        ["W3"] = (540, 240, 90, 90),
    };

    public async Task SaveAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var stations = await db.Stations.AsNoTracking().ToArrayAsync(stop);
        var layouts = await db.Layouts.AsNoTracking().ToDictionaryAsync(layout => layout.Id, layout => layout.Code, stop);
        var tails = (await db.Tails.AsNoTracking().ToArrayAsync(stop)).OrderBy(tail => tail.Registration.Value, StringComparer.Ordinal).ToArray();
        for (var index = 0; index < tails.Length; index++)
        {
            Fly(db, tails[index], Pace[layouts[tails[index].Layout]], stations, new Dice(1000 + index));
        }

        await db.SaveAsync(new Writing(Actor.Installation, now, []), stop);
    }

    private void Fly(DrainboardDb db, Tail tail, (int Sector, int Spread, int Turn, int TurnSpread) pace, Station[] stations, Dice dice)
    {
        var hub = stations.Single(station => station.Code.Value == "QQMB");
        var here = hub;
        var arrived = now - Duration.FromDays(60) - Duration.FromMinutes(dice.Between(0, 600));
        for (var number = 1; arrived < now + Duration.FromDays(30); number++)
        {
            var leaves = arrived + Duration.FromMinutes(GroundMinutes(arrived, here, pace, dice));
            if (leaves > now - Duration.FromDays(1))
            {
                var times = new TurnTimes($"{dice.Between(1, 28)}", arrived, leaves, arrived <= now ? arrived : null, leaves <= now ? leaves : null);
                db.Turns.Add(new Turn(new TurnId(NewId.At(now)), $"{tail.Registration}-T{number}", tail.Id, here.Code, times));
            }

            var next = here == hub ? dice.Pick([.. stations.Where(station => station != hub)]) : dice.Chance(0.85) ? hub : dice.Pick([.. stations.Where(station => station != here)]);
            var minutes = pace.Sector + dice.Between(0, pace.Spread);
            var lands = leaves + Duration.FromMinutes(minutes);
            db.Sectors.Add(new Sector(new SectorId(NewId.At(now)), $"{tail.Registration}-S{number}", tail.Id, new SectorPlan(here.Code, next.Code, leaves, lands, minutes - 15, lands <= now)));
            (here, arrived) = (next, lands);
        }
    }

    private static int GroundMinutes(Instant arrived, Station here, (int Sector, int Spread, int Turn, int TurnSpread) pace, Dice dice)
    {
        var hour = arrived.InZone(DateTimeZoneProviders.Tzdb[here.Zone]).Hour;
        return hour is >= 22 or < 3 ? dice.Between(360, 540) : pace.Turn + dice.Between(0, pace.TurnSpread);
    }
}
