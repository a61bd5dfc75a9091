using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>What is found at one place of a layout over all its tails, and where that is going.</summary>
public sealed class PlaceRepeatsQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    /// <param name="day">Compares as long before this day as after it.</param>
    /// <returns>Null where the layout has no such place.</returns>
    public async Task<PlaceRepeats?> ReadAsync(string layout, Position position, LocalDate? day, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var cabins = await new FleetScope(layout).CabinsAsync(db, layouts, stop);
        if (cabins.Values.OrderByDescending(cabin => cabin.Version).Select(cabin => (Cabin: cabin, Place: cabin.Find(position))).FirstOrDefault(one => one.Place is not null) is not { Place: { } place, Cabin: var drawn })
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        var snapshot = await RepeatsQuery.NewestAsync(db, stop);
        var from = Instant.Max(now - StandingsMaker.Window, snapshot?.From ?? await FleetExposure.RecordBeganAsync(db, now, stop));
        var window = (now - from).TotalDays;
        var like = drawn.Fixtures.Where(fixture => fixture.Kind == place.Kind).Select(fixture => fixture.Position).ToArray();
        var ids = cabins.Keys.ToArray();
        var findings = await db.Work.AsNoTracking().Where(work => ids.Contains(work.Tail) && like.Contains(work.FoundAt) && work.CompletedAt >= from && work.CompletedAt < now && work.Outcome != null && work.Outcome != WorkOutcome.NotRectified && work.Found != Found.Nothing)
            .Select(work => new PlaceFinding(work.Tail, work.FoundAt, work.Found, work.CompletedAt)).ToArrayAsync(stop);
        var tails = (await db.Tails.AsNoTracking().Where(tail => ids.Contains(tail.Id)).Select(tail => new { tail.Id, tail.Registration, tail.DeliveredOn }).ToArrayAsync(stop)).Select(tail => (tail.Id, Mark: tail.Registration.Value, Days: FleetExposure.DaysOf(tail.DeliveredOn, from, now))).Where(tail => tail.Days > 0).ToArray();
        var at = findings.ToLookup(one => (one.Tail, one.At));
        var here = findings.Where(one => one.At == position).ToArray();

        // A tail that came later would look like faults that come faster.
        var whole = tails.Where(tail => tail.Days >= window).Select(tail => tail.Id).ToHashSet();
        double[] days = [.. here.Where(one => whole.Contains(one.Tail)).Select(one => (one.On - from).TotalDays).Where(one => one > 0).Order()];
        var trend = window > 0 ? FaultTrend.Of(days, window) : FaultTrend.Of([], 1);
        var standing = snapshot is null ? null : await db.Standings.AsNoTracking().SingleOrDefaultAsync(one => one.Snapshot == snapshot.Number && one.Tail == null && one.Layout == layout && one.Position == position, stop);
        return new PlaceRepeats(
            layout, position.Value, place.Name, place.Kind, snapshot is null ? null : SnapshotView.Of(snapshot),
            standing is null ? null : RepeatsQuery.LineOf(standing, snapshot!.Unit, null, new Dictionary<string, CabinLayout> { [layout] = drawn }),
            from, window, tails.Length, days, trend.Verdict, StandingWords.Trend(trend, "finding"),
            Cumulative(tails.Select(tail => Unit(at[(tail.Id, position)], tail.Days, now))), Cumulative(tails.SelectMany(tail => like.Select(one => Unit(at[(tail.Id, one)], tail.Days, now)))),
            [.. here.CountBy(one => one.Found).OrderByDescending(pair => pair.Value).ThenBy(pair => pair.Key).Select(pair => new FoundCount(pair.Key, pair.Key.Words(), pair.Value))],
            [.. here.CountBy(one => one.Tail).Join(tails, pair => pair.Key, tail => tail.Id, (pair, tail) => new TailCount(tail.Mark, pair.Value)).OrderByDescending(one => one.Count).ThenBy(one => one.Tail, StringComparer.Ordinal)],
            day is { } asked ? ChangeOf(asked, from, now, tails.Sum(tail => tail.Days) / Math.Max(window, 1e-9), here) : null);
    }

    private static ObservedUnit Unit(IEnumerable<PlaceFinding> findings, double days, Instant now) => new([.. findings.Select(one => days - (now - one.On).TotalDays).Where(day => day > 0)], days);

    private static IReadOnlyList<CumulativeStep> Cumulative(IEnumerable<ObservedUnit> units) => [.. MeanCumulative.Of([.. units]).Select(CumulativeStep.Of)];

    private static ChangeView? ChangeOf(LocalDate day, Instant from, Instant now, double tails, PlaceFinding[] here)
    {
        var at = day.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant();
        var span = Duration.Min(now - at, at - from);
        return span <= Duration.Zero ? null : Changes.Of(at, "this day", here.Count(one => one.On >= at - span && one.On < at), span.TotalDays * tails, here.Count(one => one.On >= at && one.On < at + span), span.TotalDays * tails, ExposureUnit.Days);
    }

    private sealed record PlaceFinding(TailId Tail, Position At, Found Found, Instant On);
}
