using Drainboard.Data;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Network;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.TurnFit;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Live;
using Drainboard.Web.Features.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>Every clock of the fleet.</summary>
public sealed class ClocksQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, FleetJobs jobs, IClock clock)
{
    private const int NextShown = 3;

    // Those of the coming week are named and counted (our choice).
    private static readonly Duration FlightsShown = Duration.FromDays(7);

    // In so long a tail in service has more stays than are shown.
    private static readonly Duration Soon = Duration.FromDays(2);

    private readonly SharedReading<ClocksView> _shared = new(factory, clock);

    public Task<ClocksView> ReadAsync(CancellationToken stop) => _shared.GetAsync("", (db, now) => ReadAsync(db, now, CancellationToken.None), stop);

    private async Task<ClocksView> ReadAsync(DrainboardDb db, Instant now, CancellationToken stop)
    {
        var rows = await (from deferral in db.Deferrals.AsNoTracking()
                          where deferral.EndedAt == null || deferral.NoticeDueAt != null
                          join defect in db.Defects.AsNoTracking() on deferral.Defect equals defect.Id
                          join tail in db.Tails.AsNoTracking() on defect.Tail equals tail.Id
                          select new { deferral, defect.Id, defect.Number, defect.Position, defect.Symptom, tail.Registration, TailId = tail.Id, tail.Layout }).ToArrayAsync(stop);
        var book = await jobs.GetAsync(stop);
        var tails = rows.Select(row => row.TailId).Distinct().ToArray();
        var told = (await db.FleetPlans.AsNoTracking().SingleOrDefaultAsync(stop))?.Content.Items.ToDictionary(item => item.Defect) ?? [];
        var turns = await StaysAsync(db, tails, rows.Select(row => told.GetValueOrDefault(row.Id.Value)).OfType<FleetPlanItem>().Select(item => new TurnId(item.Turn)), now, stop);
        var stations = await db.Stations.AsNoTracking().ToDictionaryAsync(station => station.Code, stop);
        var plans = VisitPlans.Of(turns.SelectMany(tail => tail), stations, book.Terms, now);
        var until = now + FlightsShown;
        // One that ends before every clock of its tail, and is not late, may be flown in any case.
        var flights = (await db.Sectors.AsNoTracking().Where(sector => tails.Contains(sector.Tail) && !sector.Flown && sector.OnBlock > now && sector.OffBlock < until && db.Deferrals.Any(deferral => deferral.Tail == sector.Tail && deferral.EndedAt == null && (deferral.DueAt < sector.OnBlock || sector.OffBlock < now))).ToArrayAsync(stop)).OrderBy(sector => sector.OffBlock).ToLookup(sector => sector.Tail);
        var drawn = new Dictionary<LayoutId, CabinLayout>();
        var lines = new List<(ClockOutlook Outlook, ClockLine Line, bool Ended)>(rows.Length);
        foreach (var row in rows)
        {
            var layout = drawn.TryGetValue(row.Layout, out var known) ? known : drawn[row.Layout] = await layouts.GetAsync(row.Layout, stop);
            var fixture = ItemDoor.FixtureAt(layout, row.Position);
            var plan = plans.GetValueOrDefault(row.TailId, VisitPlan.Empty);
            var need = book.Need(layout.Code, fixture, row.Symptom.Family());
            var outlook = ClockOutlook.Of(row.deferral.DueAt, need, plan, now);
            var around = new Surroundings(need, plan, Whereabouts.CurrentOrNext([.. turns[row.TailId]], now), stations, row.deferral.DueAt, now);
            lines.Add((outlook, Line(row.deferral, row.Id.Value, row.Number, row.Registration.Value, fixture, around, outlook, Planned(told.GetValueOrDefault(row.Id.Value), turns[row.TailId], now), [.. flights[row.TailId]], now), row.deferral.EndedAt is not null));
        }

        var notices = lines.Where(one => one.Ended).Select(one => one.Line).OrderBy(line => line.NotifyBy);
        var running = lines.Where(one => one.Line.Running).OrderBy(one => one.Outlook).ThenBy(one => one.Line.Tail, StringComparer.Ordinal).ThenBy(one => one.Line.Number).Select(one => one.Line);
        var awaiting = lines.Where(one => !one.Line.Running && !one.Ended).Select(one => one.Line).OrderBy(line => (line.Here ?? (line.Next.Count > 0 ? line.Next[0] : null))?.DepartsAt ?? Instant.MaxValue);
        return new ClocksView(now, [.. running], [.. awaiting], [.. notices]);
    }

    // Most of what is planned ahead is later than the clocks: a tail is asked for its stays before its last clock ends, and then for the next few and the planned ones where they are not among those.
    private static async Task<ILookup<TailId, Turn>> StaysAsync(DrainboardDb db, TailId[] tails, IEnumerable<TurnId> planned, Instant now, CancellationToken stop)
    {
        var (since, soon, last) = (now - Whereabouts.LongestDelay, now + Soon, now + VisitPlans.Ahead);
        var read = await (from until in db.Deferrals.Where(deferral => deferral.EndedAt == null || deferral.NoticeDueAt != null).GroupBy(deferral => deferral.Tail, deferral => deferral.DueAt > soon ? deferral.DueAt.Value : soon).Select(tail => new { tail.Key, At = tail.Max() })
                          join turn in db.Turns.AsNoTracking() on until.Key equals turn.Tail
                          where turn.EstimatedDeparture > since && turn.EstimatedArrival < until.At && turn.EstimatedArrival < last
                          select turn).ToArrayAsync(stop);
        var next = read.Where(turn => turn.ArrivesAt > now).CountBy(turn => turn.Tail).ToDictionary();
        var lacking = tails.Where(tail => next.GetValueOrDefault(tail) < NextShown).ToArray();
        var missing = planned.Except(read.Select(turn => turn.Id)).ToArray();
        var more = lacking.Length + missing.Length == 0 ? [] : await db.Turns.AsNoTracking().Where(turn => (lacking.Contains(turn.Tail) || missing.Contains(turn.Id)) && turn.EstimatedDeparture > since && turn.EstimatedArrival < last).ToArrayAsync(stop);
        return read.Concat(more).DistinctBy(turn => turn.Id).ToLookup(turn => turn.Tail);
    }

    private static PlannedStay? Planned(FleetPlanItem? told, IEnumerable<Turn> turns, Instant now) =>
        told is null ? null
        : turns.FirstOrDefault(turn => turn.Id.Value == told.Turn) is { } stay ? new PlannedStay(told.Station, told.Zone, stay.ArrivesAt, stay.IsOver(now))
        : new PlannedStay(told.Station, told.Zone, told.ArrivesAt, true);

    private static ClockLine Line(Deferral deferral, Guid defect, int number, string tail, Fixture fixture, Surroundings around, ClockOutlook outlook, PlannedStay? planned, Sector[] flights, Instant now)
    {
        var zone = deferral.DayZone();
        // One that ended, or has not begun, holds nothing up.
        var blocked = deferral is { IsRunning: true, DueAt: { } due } ? flights.Where(sector => !ClockReading.MayFly(due, Flights.Of(sector).NotBefore(now), deferral.Policy.ExpiryTest)).ToArray() : [];
        return new ClockLine(
            defect, deferral.Id.Value, number, tail, fixture.Position.Value, fixture.Name, deferral.BasisCode, deferral.Basis.Revision, deferral.Basis.Category, deferral.IsRunning, deferral.IsRunning ? [] : [.. deferral.Missing().Select(missing => missing.Words)],
            deferral.IsRunning ? ClockView.Of(deferral, now) : null, deferral is { IsRunning: true, DueAt: null, Basis.Category: not null }, deferral.Extensions.Sum(extension => extension.Days), deferral.NoticeDueAt ?? deferral.AwaitingNotice?.NotifyBy, deferral.Conditions.Select(condition => condition.DueAt(zone)).Min(), deferral.RenewalOf is not null, around.Need.Minutes,
            around.Here, around.Next(NextShown), deferral.IsRunning && outlook.LastVisit is { } last ? around.View(last) : null, planned,
            [.. blocked.Take(3).Select(sector => new BlockedFlight(sector.Key, sector.From.Value, sector.To.Value, sector.OffBlock))], blocked.Length);
    }

    /// <summary>A tail's stays as seen from one item on it.</summary>
    private sealed class Surroundings(WorkNeed need, VisitPlan plan, Turn? current, IReadOnlyDictionary<StationCode, Station> stations, Instant? due, Instant now)
    {
        public WorkNeed Need => need;

        public VisitView? Here => plan.From(now).Where(visit => visit.ArrivesAt <= now && visit.Station == current?.Station).Select(visit => View(visit)).FirstOrDefault();

        public VisitView[] Next(int count) => [.. plan.From(now).Where(visit => visit.ArrivesAt > now).Take(count).Select(View)];

        public VisitView View(Visit visit) => VisitView.Of(visit, need, stations[visit.Station].Zone, due, now);
    }
}
