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

    /// <summary>So many tails stand at the hub when the demo is loaded, each at another point of its turn.</summary>
    private const int OnTheGround = 7;

    public async Task SaveAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var stations = await db.Stations.AsNoTracking().ToArrayAsync(stop);
        var layouts = await db.Layouts.AsNoTracking().ToDictionaryAsync(layout => layout.Id, layout => layout.Code, stop);
        var tails = (await db.Tails.AsNoTracking().ToArrayAsync(stop)).OrderBy(tail => tail.Registration.Value, StringComparer.Ordinal).ToArray();
        for (var index = 0; index < tails.Length; index++)
        {
            Store(db, tails[index], Plan(Pace[layouts[tails[index].Layout]], stations, new Dice(1000 + index), index < OnTheGround ? 0.15 + (0.1 * index) : null));
        }

        await db.SaveAsync(new Writing(Actor.Installation, now, []), stop);
    }

    /// <summary>The stays of one tail, one after another. Where a part is given, the whole plan is moved so that the tail now stands at the hub with that part of its turn gone.</summary>
    private List<Stay> Plan((int Sector, int Spread, int Turn, int TurnSpread) pace, Station[] stations, Dice dice, double? partGone)
    {
        var hub = stations.Single(station => station.Code.Value == "QQMB");
        var (here, arrived) = (hub, now - Duration.FromDays(61) - Duration.FromMinutes(dice.Between(0, 600)));
        var stays = new List<Stay>();
        while (arrived < now + Duration.FromDays(31))
        {
            var leaves = arrived + Duration.FromMinutes(GroundMinutes(arrived, here, pace, dice));
            var next = here == hub ? dice.Pick([.. stations.Where(station => station != hub)]) : dice.Chance(0.85) ? hub : dice.Pick([.. stations.Where(station => station != here)]);
            stays.Add(new Stay(here.Code, arrived, leaves, $"{dice.Between(1, 28)}"));
            (here, arrived) = (next, leaves + Duration.FromMinutes(pace.Sector + dice.Between(0, pace.Spread)));
        }

        if (partGone is not { } part)
        {
            return stays;
        }

        var nearest = stays.Where(stay => stay.Station == hub.Code).MinBy(stay => Math.Abs((stay.Arrives - now).TotalMinutes))!;
        var moved = now - (nearest.Arrives + ((nearest.Leaves - nearest.Arrives) * part));
        var wholeMinutes = Duration.FromMinutes(Math.Floor(moved.TotalMinutes));
        return [.. stays.Select(stay => stay with { Arrives = stay.Arrives + wholeMinutes, Leaves = stay.Leaves + wholeMinutes })];
    }

    private void Store(DrainboardDb db, Tail tail, List<Stay> stays)
    {
        for (var number = 1; number < stays.Count; number++)
        {
            var (before, stay) = (stays[number - 1], stays[number]);
            var minutes = (int)(stay.Arrives - before.Leaves).TotalMinutes;
            db.Sectors.Add(new Sector(new SectorId(NewId.At(now)), $"{tail.Registration}-S{number}", tail.Id, new SectorPlan(before.Station, stay.Station, before.Leaves, stay.Arrives, minutes - 15, stay.Arrives <= now)));
            if (stay.Leaves > now - Duration.FromDays(1) && stay.Arrives < now + Duration.FromDays(30))
            {
                var times = new TurnTimes(stay.Stand, stay.Arrives, stay.Leaves, stay.Arrives <= now ? stay.Arrives : null, stay.Leaves <= now ? stay.Leaves : null);
                db.Turns.Add(new Turn(new TurnId(NewId.At(now)), $"{tail.Registration}-T{number}", tail.Id, stay.Station, times));
            }
        }
    }

    private static int GroundMinutes(Instant arrived, Station here, (int Sector, int Spread, int Turn, int TurnSpread) pace, Dice dice)
    {
        var hour = arrived.InZone(DateTimeZoneProviders.Tzdb[here.Zone]).Hour;
        return hour is >= 22 or < 3 ? dice.Between(360, 540) : pace.Turn + dice.Between(0, pace.TurnSpread);
    }

    private sealed record Stay(StationCode Station, Instant Arrives, Instant Leaves, string Stand);
}
