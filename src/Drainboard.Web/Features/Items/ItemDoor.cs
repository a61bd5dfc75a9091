using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Items;

/// <summary>
/// The door for everything done to one defect: loads it with its surroundings, checks the station and the version seen, lets
/// the rule decide, and puts the fact on record. The defect's version stands for its deferral and work too.
/// </summary>
public sealed class ItemDoor(OneDoor door, LayoutCatalog layouts)
{
    public Task<Answer> ChangeAsync(Call call, Act act, DefectId id, object wish, Func<Item, Decision> decide, CancellationToken stop) =>
        ChangeAsync(call, act, id, wish, item => Task.FromResult(decide(item)), stop);

    public Task<Answer> ChangeAsync(Call call, Act act, DefectId id, object wish, Func<Item, Task<Decision>> decide, CancellationToken stop) =>
        door.ChangeAsync(call, act, new { id = id.Value, wish }, attempt => DecideAsync(call, act, id, decide, attempt), stop);

    public static async Task<IReadOnlyList<Turn>> TurnsAroundAsync(DrainboardDb db, TailId tail, Instant now, CancellationToken stop)
    {
        var (from, to) = (now - Duration.FromDays(2), now + Duration.FromDays(4));
        return await db.Turns.AsNoTracking().Where(turn => turn.Tail == tail && turn.EstimatedDeparture > from && turn.EstimatedArrival < to).ToArrayAsync(stop);
    }

    private async Task<Answer> DecideAsync(Call call, Act act, DefectId id, Func<Item, Task<Decision>> decide, Attempt attempt)
    {
        var (item, trouble) = await LoadAsync(act, id, attempt);
        if (item is null)
        {
            return trouble!;
        }

        if (call.SeenVersion is { } seen && seen != item.Defect.Version)
        {
            return new Answer.Stale(item.Defect.Version);
        }

        switch (await decide(item))
        {
            case Decision.Refused refused:
                // What it was refused for may have come while it was read: then somebody was faster.
                return SigningCodes.IsAbout(refused.Refusal) || await attempt.Db.Defects.AnyAsync(defect => defect.Id == id && defect.Version == item.Defect.Version, attempt.Stop) ? refused.Refusal : throw new DbUpdateConcurrencyException("The item changed while it was read.");
            case Decision.Done done:
                attempt.Record(done.Fact);
                attempt.Touch(item.Defect);
                if (item.Deferral is { Basis.CountsFlights: true })
                {
                    // Flights that change meanwhile change this clock: one of the two goes first, the other reads again.
                    attempt.Touch(item.Tail);
                }

                return attempt.Done(id.Value, () => item.Defect.Version, done.Fact.Words);
            case Decision.AlreadySo already:
                return attempt.Done(id.Value, () => item.Defect.Version, already.Words);
            default:
                throw new InvalidOperationException("A decision is done, already so or refused.");
        }
    }

    private async Task<(Item? Item, Answer? Trouble)> LoadAsync(Act act, DefectId id, Attempt attempt)
    {
        var (db, stop) = (attempt.Db, attempt.Stop);
        var found = await (from row in db.Defects
                           where row.Id == id
                           join its in db.Tails on row.Tail equals its.Id
                           join one in db.Deferrals on row.Deferral equals (DeferralId?)one.Id into carried
                           from carrying in carried.DefaultIfEmpty()
                           from operators in db.Installations
                           select new { Defect = row, Tail = its, Deferral = carrying, Installation = operators }).SingleOrDefaultAsync(stop);
        if (found is null)
        {
            if (await db.Defects.AnyAsync(row => row.Id == id, stop))
            {
                throw new InvalidOperationException($"Defect {id.Value} has no tail, or there is no installation: the database is damaged.");
            }

            return (null, new Answer.NotFound("There is no such defect."));
        }

        var (defect, tail, deferral) = (found.Defect, found.Tail, found.Deferral);
        if (defect.Deferral is not null && deferral is null)
        {
            throw new InvalidOperationException($"What carries defect {id.Value} is missing: the database is damaged.");
        }

        var reachable = Whereabouts.ReachableAt([.. await TurnsAroundAsync(db, tail.Id, attempt.Now, stop)], attempt.Now);
        if (Permissions.WhyNot(attempt.Actor, act, tail.Registration, reachable) is { } no)
        {
            return (null, new Answer.NotAllowed(no));
        }

        var here = reachable.Select(code => (StationCode?)code).FirstOrDefault(code => attempt.Actor.Stations.Covers(code!.Value)) ?? reachable.Select(code => (StationCode?)code).FirstOrDefault();
        var where = here is { } station ? await db.Stations.AsNoTracking().SingleOrDefaultAsync(row => row.Code == station, stop) : null;
        var layout = await layouts.GetAsync(tail.Layout, stop);
        var flights = deferral is null ? [] : await Flights.ForAsync(db, deferral, stop);
        var work = defect.State == DefectState.WorkDone ? await db.Work.Where(row => row.Defect == id && row.ReturnReason == "" && row.Outcome == null).OrderByDescending(row => row.RecordedAt).FirstOrDefaultAsync(stop) : null;
        var things = await db.Disturbed.Where(thing => thing.Defect == id).ToArrayAsync(stop);
        return (new Item(attempt, defect, tail, layout, FixtureAt(layout, defect.Position), deferral, flights, work, things, where, found.Installation), null);
    }

    /// <summary>A later layout version may have dropped a position that was written up; it keeps a name then too.</summary>
    public static Fixture FixtureAt(CabinLayout layout, Position position) =>
        layout.Find(position) ?? new Fixture(position, FixtureKind.DrainLine, $"{position} (no longer in layout {layout.Code})", "", 50, 50);
}
