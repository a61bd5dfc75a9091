using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Recurrence;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.TurnFit;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Fleet;

public sealed record FixtureView(string Tail, string Layout, string Position, string Name, string Kind, string Area, string? Deviation, IReadOnlyList<FixtureLine> DrainPath, IReadOnlyList<FixtureLine> SharesDrainWith, IReadOnlyList<FixtureLine> SupplyPath, IReadOnlyList<ItemLine> Items, RepeatFlag? Repeat, DefectPageView History, TurnView? Turn, string Zone, bool CanBePoured, bool CanBeAdvised);

public sealed class FixtureQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, DefectsQuery defects, FleetJobs jobs, IClock clock)
{
    public async Task<FixtureView?> ReadAsync(Registration mark, Position position, string? after, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var tail = await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, stop);
        var layout = tail is null ? null : await layouts.GetAsync(tail.Layout, stop);
        if (tail is null || layout?.Find(position) is not { } fixture)
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        var turn = Whereabouts.CurrentOrNext(await ItemDoor.TurnsAroundAsync(db, tail.Id, now, stop), now);
        var station = turn is null ? null : await db.Stations.AsNoTracking().SingleOrDefaultAsync(row => row.Code == turn.Station, stop);
        var fitting = await Fitting.OfAsync(jobs, turn, station, now, stop);
        var items = (await ItemLines.ReadAsync(db, new Dictionary<TailId, CabinLayout> { [tail.Id] = layout }, fitting, now, stop))[tail.Id].ToArray();
        var here = items.Where(item => item.Position == position.Value).ToArray();
        var newest = await db.Defects.AsNoTracking().Where(defect => defect.Tail == tail.Id && defect.Position == position).OrderByDescending(defect => defect.RecordedAt).FirstOrDefaultAsync(stop);
        return new FixtureView(
            mark.Value, layout.Code, position.Value, fixture.Name, fixture.Kind.Words(), fixture.Area, tail.Deviations.FirstOrDefault(deviation => deviation.Position == position)?.Words,
            Lines(layout.Plumbing.DrainPath(position), items), Lines(layout.Plumbing.SharesDrainWith(position), items), Lines(layout.Plumbing.SupplyPath(position), items),
            here, newest?.Repeat, await defects.ReadAsync(tail.Id, position, null, after, stop), turn is null ? null : TurnView.Of(turn, now), station?.Zone ?? "Etc/UTC", PourQuestions.WhyNotAt(layout, position) is null, PourQuestions.WhyNotAt(layout, position) is null || fixture.Kind == FixtureKind.Toilet);
    }

    private static FixtureLine[] Lines(IEnumerable<Fixture> fixtures, ItemLine[] items) =>
        [.. fixtures.Select(fixture => new FixtureLine(fixture.Position.Value, fixture.Name, fixture.Kind.Words(), items.Count(item => item.Position == fixture.Position.Value)))];
}
