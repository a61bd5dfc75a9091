using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>Why one fixture comes back: its standing, where it is going, what was tried and how long it lasted.</summary>
public sealed class FixtureRepeatsQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    /// <param name="family">Null: of the kind that was written up most.</param>
    public async Task<FixtureRepeats?> ReadAsync(Registration mark, Position position, SymptomFamily? family, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var tail = await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, stop);
        var cabin = tail is null ? null : await layouts.GetAsync(tail.Layout, stop);
        if (tail is null || cabin?.Find(position) is not { } fixture)
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        var snapshot = await RepeatsQuery.NewestAsync(db, stop);
        var from = Instant.Max(now - StandingsMaker.Window, snapshot?.From ?? await FleetExposure.RecordBeganAsync(db, now, stop));
        var own = await OwnAsync(db, tail.Id, position, from, now, stop);
        var asked = family ?? (own.Length == 0 ? SymptomFamily.Draining : own.GroupBy(one => one.Symptom.Family()).OrderByDescending(group => group.Count()).ThenBy(group => group.Key).First().Key);
        var mine = own.Where(one => one.Symptom.Family() == asked).ToArray();
        var standing = snapshot is null ? null : await db.Standings.AsNoTracking().SingleOrDefaultAsync(one => one.Snapshot == snapshot.Number && one.Tail == tail.Id && one.Position == position && one.Family == asked, stop);
        var tried = await TriedAsync(db, cabin, tail.Id, mine, now, stop);
        var begin = now - Duration.FromDays(FleetExposure.DaysOf(tail.DeliveredOn, from, now));
        var window = (now - begin).TotalDays;
        double[] days = [.. mine.Select(one => (one.RecordedAt - begin).TotalDays).Where(day => day > 0)];
        var trend = window > 0 ? FaultTrend.Of(days, window) : FaultTrend.Of([], 1);
        return new FixtureRepeats(
            mark.Value, cabin.Code, position.Value, fixture.Name, fixture.Kind, asked, snapshot is null ? null : SnapshotView.Of(snapshot),
            standing is null ? null : RepeatsQuery.LineOf(standing, snapshot!.Unit, mark.Value, new Dictionary<string, CabinLayout> { [cabin.Code] = cabin }),
            begin, window, days, trend.Verdict, StandingWords.Trend(trend, "write-up"), await FleetAsync(db, cabin, position, asked, from, now, stop), tried,
            tried.Count > 0 ? ChangeOf(tried[0], begin, now, mine.Select(one => one.RecordedAt)) : null,
            tried.Skip(1).FirstOrDefault(one => one.Found == Found.FailedPart) is { } part ? ChangeOf(part, begin, now, mine.Select(one => one.RecordedAt)) : null,
            RepeatLine.Of(mine.Length, mine.Length > 0 ? (int)Math.Ceiling((now - mine[0].RecordedAt).TotalDays) : 0, standing, tried));
    }

    private static async Task<OwnWriteUp[]> OwnAsync(DrainboardDb db, TailId tail, Position position, Instant from, Instant now, CancellationToken stop) =>
        await StandingsMaker.WriteUps(db, from, now).Where(defect => defect.Tail == tail && defect.Position == position).OrderBy(defect => defect.RecordedAt).Select(defect => new OwnWriteUp(defect.Id, defect.Symptom, defect.RecordedAt)).ToArrayAsync(stop);

    private static async Task<IReadOnlyList<TriedView>> TriedAsync(DrainboardDb db, CabinLayout cabin, TailId tail, OwnWriteUp[] mine, Instant now, CancellationToken stop)
    {
        var ids = mine.Select(one => one.Id).ToArray();
        var work = await db.Work.AsNoTracking().Where(one => one.Tail == tail && ids.Contains(one.Defect) && one.Outcome != null && one.Outcome != WorkOutcome.NotRectified).OrderByDescending(one => one.CompletedAt).ToArrayAsync(stop);
        return
        [
            .. work.Select(one =>
            {
                var next = mine.FirstOrDefault(other => other.RecordedAt > one.CompletedAt);
                return new TriedView(one.Defect.Value, one.CompletedAt, one.Found, cabin.Find(one.FoundAt)?.Name ?? one.FoundAt.Value, string.Join(" ", one.Steps.Select(step => step.Words)), ((next?.RecordedAt ?? now) - one.CompletedAt).TotalDays, next is null);
            }),
        ];
    }

    /// <summary>The same position on every tail of the layout: like with like, whatever stands around it.</summary>
    private static async Task<IReadOnlyList<CumulativeStep>> FleetAsync(DrainboardDb db, CabinLayout cabin, Position position, SymptomFamily family, Instant from, Instant now, CancellationToken stop)
    {
        var versions = await db.Layouts.Where(layout => layout.Code == cabin.Code).Select(layout => layout.Id).ToArrayAsync(stop);
        var tails = await db.Tails.AsNoTracking().Where(tail => versions.Contains(tail.Layout)).Select(tail => new { tail.Id, tail.DeliveredOn }).ToArrayAsync(stop);
        var ids = tails.Select(tail => tail.Id).ToArray();
        var symptoms = Enum.GetValues<Symptom>().Where(symptom => symptom.Family() == family).ToArray();
        var faults = (await StandingsMaker.WriteUps(db, from, now).Where(defect => ids.Contains(defect.Tail) && defect.Position == position && symptoms.Contains(defect.Symptom)).Select(defect => new { defect.Tail, defect.RecordedAt }).ToArrayAsync(stop)).ToLookup(one => one.Tail, one => one.RecordedAt);
        var units = tails.Select(tail => (Days: FleetExposure.DaysOf(tail.DeliveredOn, from, now), tail.Id)).Where(tail => tail.Days > 0)
            .Select(tail => new ObservedUnit([.. faults[tail.Id].Select(at => tail.Days - (now - at).TotalDays).Where(day => day > 0)], tail.Days)).ToArray();
        return [.. MeanCumulative.Of(units).Select(CumulativeStep.Of)];
    }

    private static ChangeView? ChangeOf(TriedView last, Instant begin, Instant now, IEnumerable<Instant> faults)
    {
        var at = faults.ToArray();
        return Changes.Of(last.At, last.Words, at.Count(one => one <= last.At), (last.At - begin).TotalDays, at.Count(one => one > last.At), (now - last.At).TotalDays, ExposureUnit.Days);
    }

    private sealed record OwnWriteUp(DefectId Id, Symptom Symptom, Instant RecordedAt);
}
