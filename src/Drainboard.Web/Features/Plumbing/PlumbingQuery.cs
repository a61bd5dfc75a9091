using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Drainboard.Domain.Pours;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Isolation;
using Drainboard.Web.Features.Pours;
using Drainboard.Web.Shell;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Plumbing;

public sealed class PlumbingQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    /// <param name="around">The place to draw around; null: the first view that has something to show.</param>
    /// <returns>Null where there is no such tail or place.</returns>
    public async Task<PlumbingBoard?> ReadAsync(Registration mark, Water water, Position? around, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var tail = await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, stop);
        if (tail is null)
        {
            return null;
        }

        var (layout, now) = (await layouts.GetAsync(tail.Layout, stop), clock.GetCurrentInstant());
        var items = (await ItemLines.ReadAsync(db, new Dictionary<TailId, CabinLayout> { [tail.Id] = layout }, null, now, stop))[tail.Id].ToArray();
        var pours = await RecentPours.ReadAsync(db, tail.Id, layout, now, stop);
        var views = layout.Plumbing.Views(water);
        var at = around ?? views.Select(view => (view.Position, Here: layout.Plumbing.Around(view.Position, water)!.Fixtures.Count(fixture => items.Any(item => item.Position == fixture.Position.Value)))).OrderByDescending(view => view.Here).Select(view => (Position?)view.Position).FirstOrDefault();
        if (at is not { } place || layout.Plumbing.Around(place, water) is not { } branch)
        {
            return null;
        }

        return new PlumbingBoard(mark.Value, water, place.Value, [.. views.Select(view => new NamedPlace(view.Position.Value, view.Name))], branch, Marks(items, pours));
    }

    /// <summary>As <see cref="Junction"/>, for a tail; null where there is no such fixture.</summary>
    public async Task<Position?> JunctionAsync(Registration mark, Position fixture, Water water, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var layout = await db.Tails.Where(tail => tail.Registration == mark).Select(tail => (LayoutId?)tail.Layout).SingleOrDefaultAsync(stop) is { } id ? await layouts.GetAsync(id, stop) : null;
        return layout?.Find(fixture) is null ? null : Junction(layout, fixture, water);
    }

    /// <summary>The place from which a fixture's drain is best seen: where others first join it, or its end.</summary>
    public static Position Junction(CabinLayout layout, Position fixture, Water water)
    {
        var way = water == Water.Drainage ? layout.Plumbing.DrainPath(fixture) : layout.Plumbing.SupplyPath(fixture);
        return way.FirstOrDefault(node => layout.Plumbing.Around(node.Position, water)!.Leaves > 1, way[^1]).Position;
    }

    public static Dictionary<string, PipeMark> Marks(IReadOnlyCollection<ItemLine> items, IReadOnlyDictionary<Position, Pour> pours)
    {
        var worst = items.GroupBy(item => item.Position).ToDictionary(here => here.Key, here => here.First());
        return worst.Keys.Union(pours.Keys.Select(at => at.Value)).ToDictionary(at => at, at =>
        {
            var (item, pour) = (worst.GetValueOrDefault(at), pours.GetValueOrDefault(Position.Parse(at)));
            return new PipeMark(item is null ? null : item.Leaking ? "leaking" : item.State == DefectState.WorkDone ? "not released" : item.State.Words(), item is null ? Shape.Open : item.Leaking ? Shape.Leak : item.State switch { DefectState.Deferred => Shape.Deferred, DefectState.Reported => Shape.Reported, DefectState.WorkDone => Shape.NotReleased, _ => Shape.Open }, item?.Leaking == true, pour?.ResultWords, pour?.Result);
        });
    }
}
