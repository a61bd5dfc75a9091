using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.TurnFit;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PlannedChecks;

public sealed class RoundQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, FleetJobs jobs, Rounds walks, IClock clock)
{
    /// <summary>Where no stay is known, what was done in the last day is shown.</summary>
    private static readonly Duration ShownWithoutStay = Duration.FromHours(24);

    /// <returns>Null where there is no such tail.</returns>
    public async Task<RoundView?> ReadAsync(Registration mark, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var tail = await db.Tails.AsNoTracking().SingleOrDefaultAsync(row => row.Registration == mark, stop);
        if (tail is null)
        {
            return null;
        }

        var (now, layout, book) = (clock.GetCurrentInstant(), await layouts.GetAsync(tail.Layout, stop), await jobs.GetAsync(stop));
        var turns = await ItemDoor.TurnsAroundAsync(db, tail.Id, now, stop);
        var stay = Whereabouts.CurrentOrNext(turns, now);
        var station = stay is null ? null : await db.Stations.AsNoTracking().SingleOrDefaultAsync(row => row.Code == stay.Station, stop);
        var visit = station is null ? null : Visit.Of(stay!, station, DateTimeZoneProviders.Tzdb[station.Zone], now, book.Terms);
        var round = (await walks.ReadAsync(db, [new RoundOf(tail, layout, visit, station?.SlowPercent ?? Station.UsualSlowPercent)], Duration.FromMinutes(book.Terms.PaperworkMinutes), now, stop)).GetValueOrDefault(tail.Id);
        var next = stay is null ? null : turns.Where(turn => turn.ArrivesAt >= stay.DepartsAt).MinBy(turn => turn.ArrivesAt);
        return new RoundView(
            mark.Value, layout.Code, stay is null ? null : TurnView.Of(stay, now), station?.Zone ?? "Etc/UTC", now, [.. (round?.Slots ?? []).Select(slot => RoundLine.Of(slot, now))],
            await DoneAsync(db, tail, layout, stay is not null && stay.ArrivesAt - CheckDues.BeforeArrival < now ? stay.ArrivesAt - CheckDues.BeforeArrival : now - ShownWithoutStay, stop), round?.Coldest is { } coldest ? TemperatureView.Of(coldest) : null, round is { AsksForCold: true, Coldest: null },
            next is null ? null : TurnView.Of(next, now), await StandingAsync(db, tail, stop),
            [.. layout.Fixtures.OrderBy(fixture => fixture.Along).Select(fixture => new FixtureLine(fixture.Position.Value, fixture.Name, fixture.Kind.Words(), 0))]);
    }

    private static async Task<IReadOnlyList<CheckDoneView>> DoneAsync(DrainboardDb db, Tail tail, CabinLayout layout, Instant since, CancellationToken stop)
    {
        var rows = await (from done in db.ChecksDone.AsNoTracking()
                          join check in db.PlannedChecks on new { Code = done.Check, done.Number } equals new { check.Code, check.Number }
                          where done.Tail == tail.Id && done.At >= since
                          orderby done.At descending
                          select new { Done = done, check.Terms }).ToArrayAsync(stop);
        var reports = rows.Select(row => row.Done.Report).OfType<ReportId>().ToArray();
        var defects = reports.Length == 0 ? [] : await db.Reports.AsNoTracking().Where(report => reports.Contains(report.Id)).ToDictionaryAsync(report => report.Id, report => report.Defect, stop);
        return [.. rows.Select(row => new CheckDoneView(
            row.Done.Id.Value, row.Done.Check, row.Terms.Title, row.Done.Position?.Value, row.Done.Position is { } at ? ItemDoor.FixtureAt(layout, at).Name : "The whole aircraft", row.Done.Outcome, row.Done.At, row.Done.ByName,
            row.Done.Report is { } report ? defects[report].Value : null, row.Done.TakenBackAt is null ? null : $"taken back: {row.Done.TakenBackWhy} ({row.Done.TakenBackBy})"))];
    }

    private static async Task<IReadOnlyList<StandingItem>> StandingAsync(DrainboardDb db, Tail tail, CancellationToken stop)
    {
        var rows = await db.Defects.AsNoTracking().Where(row => row.Tail == tail.Id && row.State != DefectState.Closed && row.State != DefectState.WorkDone).OrderBy(row => row.Number).ToArrayAsync(stop);
        return [.. rows.Select(row => new StandingItem(row.Id.Value, row.Number, row.Position.Value, row.Symptom))];
    }
}
