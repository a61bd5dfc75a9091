using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.PlannedChecks;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Pours;

/// <param name="Openness">Against the clean reference, 1 being as clean; null without a comparable one.</param>
/// <param name="Withdrawn">Why it was withdrawn as entered in error, and by whom; null where it stands.</param>
/// <param name="FasterThanClean">Faster than clean by more than the watch explains.</param>
public sealed record PourView(Guid Id, Instant PouredAt, decimal Seconds, decimal UncertaintySeconds, PourMeasure Measure, PourRun Run, PourMoment Moment, bool CleanReference, decimal? ReferenceSeconds, double? Openness, double? OpennessUncertainty, PourResult Result, string Words, bool FasterThanClean, string By, Guid? Defect, string Position, string? Withdrawn)
{
    public static PourView Of(Pour pour) => new(
        pour.Id.Value, pour.PouredAt, pour.Milliseconds / 1000m, pour.UncertaintyMilliseconds / 1000m, pour.Measure, pour.Run, pour.Moment, pour.IsReference, pour.ReferenceMilliseconds / 1000m, pour.IsReference ? 1 : pour.Openness, pour.OpennessUncertainty, pour.Result,
        pour.IsReference ? "clean reference" : pour.ResultWords, pour.IsFasterThanClean, pour.ByName, pour.Defect?.Value, pour.Position.Value, pour.WithdrawnAt is null ? null : $"entered in error: {pour.WithdrawnWhy} ({pour.WithdrawnBy})");
}

/// <param name="WhyNot">Why no pour is timed here; null where one may be.</param>
/// <param name="Questions">What is confirmed before water is poured.</param>
/// <param name="Leaks">Known leaks at the fixture or on its way down.</param>
/// <param name="Since">The trend begins when the drain was opened last, or with a newer clean reference.</param>
public sealed record PoursView(string Tail, string Layout, string Position, string FixtureName, string? WhyNot, IReadOnlyList<PourQuestion> Questions, IReadOnlyList<PourView> Pours, DrainTrend Trend, Instant? Since, int SlowPercent, PourMeasure? UsualMeasure, IReadOnlyList<string> Leaks, string Zone, Instant Now);

public sealed class PoursQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    private const int Most = 200;

    public async Task<PoursView?> ReadAsync(Registration mark, Position position, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var tail = await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, stop);
        var layout = tail is null ? null : await layouts.GetAsync(tail.Layout, stop);
        if (tail is null || layout!.Find(position) is not { } fixture)
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        var turns = await ItemDoor.TurnsAroundAsync(db, tail.Id, now, stop);
        var here = Whereabouts.CurrentOrNext(turns, now)?.Station;
        var station = here is { } code ? await db.Stations.AsNoTracking().SingleOrDefaultAsync(row => row.Code == code, stop) : null;
        var pours = await db.Pours.AsNoTracking().Where(pour => pour.Tail == tail.Id && pour.Position == position).OrderByDescending(pour => pour.PouredAt).Take(Most).ToArrayAsync(stop);
        var opened = await LastOpenedAsync(db, tail.Id, layout, position, stop);
        var slow = station?.SlowPercent ?? Station.UsualSlowPercent;
        var (trend, since) = DrainTrends.Of(pours, opened, slow, now);
        return new PoursView(
            mark.Value, layout.Code, position.Value, fixture.Name, PourQuestions.WhyNotAt(layout, position)?.Words, PourQuestions.For(layout, position), [.. pours.Select(PourView.Of)], trend, since, slow,
            pours.FirstOrDefault(pour => pour is { IsReference: true, WithdrawnAt: null })?.Measure ?? pours.FirstOrDefault()?.Measure, [.. Leaks.On(layout, position, await db.Defects.AsNoTracking().Where(defect => defect.Tail == tail.Id && defect.State != DefectState.Closed && defect.Leak == LeakAnswer.Leaking).ToArrayAsync(stop)).Select(leak => $"{ItemDoor.FixtureAt(layout, leak.Position).Name}: {leak.LeakWhere}")], station?.Zone ?? "Etc/UTC", now);
    }

    /// <summary>When something was last found and put right, or cleaned, on the way of a fixture: pours before it tell of another drain.</summary>
    private static async Task<Instant?> LastOpenedAsync(DrainboardDb db, TailId tail, CabinLayout layout, Position position, CancellationToken stop)
    {
        var way = CabinDrains.PathOf(layout, position).Select(node => node.Position).ToArray();
        var worked = await db.Work.AsNoTracking().Where(work => work.Tail == tail && way.Contains(work.FoundAt) && work.Found != Found.Nothing && work.ReturnReason == "").MaxAsync(work => (Instant?)work.CompletedAt, stop);
        var cleanings = (await Rounds.ChecksAsync(db, stop)).Where(check => check.Terms.IsCleaning).Select(check => check.Code).ToArray();
        var cleaned = cleanings.Length == 0 ? null : await db.ChecksDone.AsNoTracking().Where(done => done.Tail == tail && done.IsNewest && cleanings.Contains(done.Check) && done.Position != null && way.Contains(done.Position.Value)).MaxAsync(done => (Instant?)done.At, stop);
        return cleaned > worked || worked is null ? cleaned ?? worked : worked;
    }
}
