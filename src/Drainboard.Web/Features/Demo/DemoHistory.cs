using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Demo;

/// <summary>Eighteen months of write-ups for every tail, oldest first, one transaction a tail.</summary>
internal sealed class DemoHistory(IDbContextFactory<DrainboardDb> factory, Instant now)
{
    public const int Days = 548;

    public async Task SaveAsync(CancellationToken stop)
    {
        Person[] people;
        Tail[] tails;
        Dictionary<LayoutId, CabinLayout> layouts;
        DeferralBasis[] bases;
        Turn[] turns;
        WorkCard[] cards;
        await using (var db = await factory.CreateDbContextAsync(stop))
        {
            people = await db.Users.AsNoTracking().OrderBy(person => person.UserName).ToArrayAsync(stop);
            tails = await db.Tails.AsNoTracking().ToArrayAsync(stop);
            layouts = await db.Layouts.AsNoTracking().ToDictionaryAsync(layout => layout.Id, stop);
            bases = (await db.Bases.AsNoTracking().ToArrayAsync(stop)).OrderBy(basis => basis.Code, StringComparer.Ordinal).ToArray();
            cards = await db.WorkCards.AsNoTracking().ToArrayAsync(stop);
            turns = await db.Turns.AsNoTracking().ToArrayAsync(stop);
        }

        var cast = new DemoCast(people);
        var scenes = Scenes(turns);
        var far = turns.Where(turn => layouts[tails.Single(tail => tail.Id == turn.Tail).Layout].Code != "N1" && !scenes.ContainsKey(turn.Tail)).OrderBy(turn => turn.ArrivesAt).ThenBy(turn => turn.Key, StringComparer.Ordinal).Select(turn => turn.Tail).Distinct().Take(2).ToArray();
        var flights = await FlightsAsync(far[1], stop);
        scenes[far[0]] = life => life.VacuumGeneratorOut();
        scenes[far[1]] = life => life.CountedInFlights(flights);
        var longHaul = tails.Where(tail => layouts[tail.Layout].Code == "W3" && !scenes.ContainsKey(tail.Id)).MinBy(tail => tail.Registration.Value, StringComparer.Ordinal);
        if (longHaul is not null)
        {
            scenes[longHaul.Id] = life => life.TwoToiletsOut();
        }

        var cold = tails.Where(tail => layouts[tail.Layout].Code == "W2" && !scenes.ContainsKey(tail.Id)).MinBy(tail => tail.Registration.Value, StringComparer.Ordinal);
        if (cold is not null)
        {
            scenes[cold.Id] = life => life.MastHeaterOut();
        }

        var ordered = tails.OrderBy(tail => tail.Registration.Value, StringComparer.Ordinal).ToArray();
        for (var index = 0; index < ordered.Length; index++)
        {
            var tail = ordered[index];
            var life = new DemoLife(tail, layouts[tail.Layout], bases, cards, cast, new Dice(5000 + index), now);
            life.Live(Days);
            life.PourNowAndThen(new Dice(9000 + index));
            scenes.GetValueOrDefault(tail.Id)?.Invoke(life);
            await using var db = await factory.CreateDbContextAsync(stop);
            db.AddRange(life.Made);
            await db.SaveAsync(new Writing(Actor.Installation, now, [.. life.Deeds.OrderBy(deed => deed.At)]), stop);
        }
    }

    private async Task<IReadOnlyList<ClockSector>> FlightsAsync(TailId tail, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return await Flights.SinceAsync(db, tail, now - Duration.FromDays(3), stop);
    }

    /// <summary>What a visitor meets on the first Board: an item at each point of its life, on the tails that stand at the hub or come in next.</summary>
    private Dictionary<TailId, Action<DemoLife>> Scenes(Turn[] turns)
    {
        var hub = StationCode.Parse("QQMB");
        var due = turns.Where(turn => turn.Station == hub && turn.DepartsAt > now).OrderBy(turn => turn.ArrivesAt).ThenBy(turn => turn.Key, StringComparer.Ordinal).Select(turn => turn.Tail).Distinct();
        Action<DemoLife>[] scenes =
        [
            life => life.ReportedNow(), life => life.LeakNow(), life => life.DeferredSince(2, Category.B), life => life.AwaitingRelease(), life => life.OpenNow(),
            life => life.Proposed(), life => life.FittedWithoutCertificate(), life => life.DeferredSince(4, Category.C), life => life.WaitingForAPart(), life => life.DeferredSince(3, Category.B),
        ];
        return due.Zip(scenes).ToDictionary(pair => pair.First, pair => pair.Second);
    }
}
