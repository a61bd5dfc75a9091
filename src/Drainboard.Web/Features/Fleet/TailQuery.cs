using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.PlannedChecks;
using Drainboard.Web.Features.TurnFit;
using Drainboard.Web.Features.PotableWater;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Fleet;

/// <param name="Recent">Closed lately, the last one first.</param>
/// <param name="Checks">The planned checks of its present or next stay; null: none is due.</param>
/// <param name="WaterNotServed">Why its drinking water is not served; null: it may be.</param>
public sealed record TailView(Guid Id, string Registration, string Layout, int LayoutVersion, string LayoutName, int Seats, IReadOnlyList<Deviation> Deviations, IReadOnlyList<TurnView> Turns, string Zone, IReadOnlyList<ItemLine> Items, IReadOnlyList<AreaView> Areas, IReadOnlyList<CabinMark> Marks, IReadOnlyList<CabinPipe> Pipes, IReadOnlyList<KindCount> Down, IReadOnlyList<AreaDown> DownByArea, IReadOnlyList<DefectLine> Recent, Instant Now, string? WaterNotServed, IReadOnlyList<MastCarried> Masts, RoundCount? Checks);

/// <summary>The fixtures of one part of the cabin that people use, with what is wrong with each.</summary>
public sealed record AreaView(string Name, IReadOnlyList<FixtureLine> Fixtures);

public sealed record FixtureLine(string Position, string Name, string Kind, int Active);

public sealed class TailQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, DefectsQuery defects, FleetJobs jobs, Rounds walks, IClock clock)
{
    public async Task<TailView?> ReadAsync(Registration mark, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var tail = await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, stop);
        if (tail is null)
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        var layout = await layouts.GetAsync(tail.Layout, stop);
        var around = await ItemDoor.TurnsAroundAsync(db, tail.Id, now, stop);
        var turns = around.Where(turn => !turn.IsOver(now)).OrderBy(turn => turn.ArrivesAt).Take(4).ToArray();
        var here = turns.FirstOrDefault();
        var station = here is null ? null : await db.Stations.AsNoTracking().SingleOrDefaultAsync(row => row.Code == here.Station, stop);
        var fitting = await Fitting.OfAsync(jobs, here, station, now, stop);
        var items = (await ItemLines.ReadAsync(db, new Dictionary<TailId, CabinLayout> { [tail.Id] = layout }, fitting, now, stop))[tail.Id].ToArray();
        var visit = here is not null && Whereabouts.CurrentOrNext(around, now)?.Id == here.Id ? fitting?.Stays.GetValueOrDefault(tail.Id) : null;
        var round = (await walks.ReadAsync(db, [new RoundOf(tail, layout, visit, station?.SlowPercent ?? Station.UsualSlowPercent)], Duration.FromMinutes(fitting?.Book.Terms.PaperworkMinutes ?? 0), now, stop)).GetValueOrDefault(tail.Id);
        var active = items.CountBy(item => item.Position).ToDictionary();
        var areas = layout.Fixtures.Where(fixture => fixture.Kind.IsUsedOnBoard()).OrderBy(fixture => fixture.Along).ThenBy(fixture => fixture.Across)
            .GroupBy(fixture => fixture.Area).Select(area => new AreaView(area.Key, [.. area.Select(fixture => new FixtureLine(fixture.Position.Value, fixture.Name, fixture.Kind.Words(), active.GetValueOrDefault(fixture.Position.Value)))]));
        return new TailView(tail.Id.Value, mark.Value, layout.Code, layout.Version, layout.Name, layout.Seats, tail.Deviations, [.. turns.Select(turn => TurnView.Of(turn, now))], station?.Zone ?? "Etc/UTC", items, [.. areas], KindCount.Marks(layout, items), CabinPipe.Of(layout), KindCount.Of(layout, items), AreaDown.Of(layout, items), await defects.ClosedLatelyAsync(tail.Id, stop), now, (await WaterRestrictions.ReadAsync(db, [tail.Id], now, stop)).GetValueOrDefault(tail.Id), await MastCarried.ReadAsync(db, tail.Id, layout, items, now, stop), RoundCount.Of(round, now));
    }
}
