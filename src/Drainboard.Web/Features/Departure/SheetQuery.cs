using Drainboard.Data;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Lavatories;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.PotableWater;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Lavatories;
using Drainboard.Web.Features.Turns;
using Drainboard.Web.Shell;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Departure;

/// <summary>The departure sheet of a tail: the stay under way, or the next.</summary>
public sealed class SheetQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    public async Task<SheetView?> ReadAsync(Registration mark, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return await ReadAsync(db, mark, clock.GetCurrentInstant(), stop);
    }

    internal async Task<SheetView?> ReadAsync(DrainboardDb db, Registration mark, Instant now, CancellationToken stop)
    {
        var tail = await db.Tails.AsNoTracking().SingleOrDefaultAsync(row => row.Registration == mark, stop);
        if (tail is null)
        {
            return null;
        }

        var layout = await layouts.GetAsync(tail.Layout, stop);
        var turn = Whereabouts.CurrentOrNext(await ItemDoor.TurnsAroundAsync(db, tail.Id, now, stop), now);
        var zone = turn is null ? null : await db.Stations.Where(row => row.Code == turn.Station).Select(row => row.Zone).SingleOrDefaultAsync(stop);
        var defects = (await db.Defects.AsNoTracking().Where(row => row.Tail == tail.Id && row.State != DefectState.Closed).ToArrayAsync(stop)).OrderBy(row => row.Number).ToArray();
        var ids = defects.Where(row => row.Deferral is not null).Select(row => row.Deferral!.Value).ToArray();
        var deferrals = await db.Deferrals.AsNoTracking().Where(row => ids.Contains(row.Id)).ToDictionaryAsync(row => row.Defect, stop);
        var flight = await Flights.AfterAsync(db, turn, stop);
        var carried = defects.Where(row => row.State == DefectState.Deferred).OrderBy(row => layout.Find(row.Position)?.Kind != FixtureKind.DrainMast).Select(row => Item(row, deferrals[row.Id], ItemDoor.FixtureAt(layout, row.Position), turn, flight, now)).ToArray();
        var unsettled = defects.Where(row => row.State != DefectState.Deferred).Select(row => new UnsettledItem(row.Id.Value, row.Number, ItemDoor.FixtureAt(layout, row.Position).Name, row.Symptom.Words(), row.State)).ToArray();
        SheetNote[] notes = [.. await ToiletsAsync(db, layout, flight, defects, stop), .. await NotesAsync(db, tail, layout, turn?.DepartsAt ?? now, now, stop)];
        var hash = SheetView.HashOf(turn?.Id.Value, turn?.Returns ?? 0, carried, unsettled, notes);
        var acknowledged = turn is null ? [] : await db.Acknowledgements.AsNoTracking().Where(row => row.Turn == turn.Id).OrderBy(row => row.At).ToArrayAsync(stop);
        return new SheetView(mark.Value, layout.Code, turn?.Id.Value, turn is null ? null : TurnView.Of(turn, now), zone ?? "Etc/UTC", now, flight is not null, carried, unsettled, hash, [.. acknowledged.Select(row => new AcknowledgementView(row.Signer, row.Name, row.At, row.SheetHash == hash))], notes);
    }

    private static async Task<IEnumerable<SheetNote>> ToiletsAsync(DrainboardDb db, CabinLayout layout, Sector? flight, IEnumerable<Defect> defects, CancellationToken stop)
    {
        var down = defects.Where(row => row.State != DefectState.Reported).Select(row => row.Position).ToHashSet();
        return flight is not null && NextSector.Broken(await db.Installations.AsNoTracking().Select(row => row.ToiletMinimums).SingleOrDefaultAsync(stop) ?? [], layout, flight, ToiletCount.Of(layout, down)) is var (rule, words) ? [new SheetNote(words, rule.Forbids)] : [];
    }

    private static async Task<SheetNote[]> NotesAsync(DrainboardDb db, Tail tail, CabinLayout layout, Instant departs, Instant now, CancellationToken stop)
    {
        var parts = await db.Parts.AsNoTracking().OnLimit().Where(part => part.Tail == tail.Id).OrderBy(part => part.At).ToArrayAsync(stop);
        var clocks = await PartClocks.ReadAsync(db, parts, now, stop);
        var things = await db.Disturbed.AsNoTracking().Where(thing => thing.Tail == tail.Id && thing.RestoredAt == null).OrderBy(thing => thing.At).ToArrayAsync(stop);
        var water = await WaterRestrictions.ReadAsync(db, [tail.Id], now, stop);
        return
        [
            .. water.Values.Select(why => new SheetNote($"Drinking water: {why}. {WaterView.NotServed}", false)),
            .. parts.Select(part => (Part: part, Clock: clocks[part.Id], Where: ItemDoor.FixtureAt(layout, part.Position).Name)).Select(one => new SheetNote(
                one.Clock.DueAt is not { } due ? $"{one.Part.Name} at {one.Where} has no release certificate; the flights known reach neither of its limits."
                : due <= now ? $"{one.Part.Name} at {one.Where} has no release certificate; its time lapsed {Times.Utc(due)} with {one.Clock.LimitWords}."
                : $"{one.Part.Name} at {one.Where} has no release certificate: off or certified by {Times.Utc(due)}, with {one.Clock.LimitWords}.",
                one.Clock.DueAt <= Instant.Max(departs, now))),
            .. things.Select(thing => new SheetNote(thing.LeftWords.Length > 0 ? $"{thing.Title}: {thing.LeftWords}." : $"{thing.Title}: not restored, and not said to be left so.", thing.IsLoose)),
        ];
    }

    private static SheetItem Item(Defect defect, Deferral deferral, Fixture fixture, Turn? turn, Sector? flight, Instant now)
    {
        var zone = deferral.DayZone();
        var (arrives, departs) = (turn?.ArrivesAt ?? now, Instant.Max(turn?.DepartsAt ?? now, now));
        var leaves = new ClockSector(flight?.OffBlock ?? departs, flight?.OnBlock ?? departs, Duration.Zero, true).NotBefore(departs);
        var view = DeferralView.Of(deferral, now);
        return new SheetItem(
            defect.Id.Value, defect.Number, fixture.Position.Value, fixture.Name, defect.Symptom.Words(), deferral.BasisWords(), deferral.Log?.ToString() ?? defect.Log?.ToString(), deferral.DueAt,
            deferral.DueAt is not { } due || ClockReading.MayFly(due, leaves, deferral.Policy.ExpiryTest),
            deferral.Basis.PlacardRequired ? $"{deferral.Basis.PlacardText} ({(deferral.PlacardFitted ? deferral.PlacardWhere : "NOT FITTED")})" : "",
            view.Conditions, [.. deferral.Conditions.Where(condition => condition.IsRepeated && condition.IsDueBefore(departs, arrives, zone)).Select(condition => condition.Words)]);
    }
}
