using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Lavatories;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.TurnFit;

/// <summary>Whether one item fits the stay under way or the next one, with everything that it rests on.</summary>
public sealed class FitQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, FleetJobs jobs, IClock clock)
{
    private const int Points = 60;
    private const int StaysShown = 3;

    /// <returns>Null where there is no such item, it is closed, or no stay of its aircraft is known.</returns>
    public async Task<FitDetail?> ReadAsync(DefectId id, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var defect = await db.Defects.AsNoTracking().SingleOrDefaultAsync(row => row.Id == id, stop);
        if (defect is null || !defect.IsActive)
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        var book = await jobs.GetAsync(stop);
        var cabin = await layouts.GetAsync(await db.Tails.Where(tail => tail.Id == defect.Tail).Select(tail => tail.Layout).SingleAsync(stop), stop);
        var (plans, _, _) = await VisitPlans.ReadAsync(db, [defect.Tail], book.Terms, now, stop);
        var stays = plans.GetValueOrDefault(defect.Tail, VisitPlan.Empty).From(now).ToArray();
        if (stays.Length == 0)
        {
            return null;
        }

        var (here, fixture, family) = (stays[0], ItemDoor.FixtureAt(cabin, defect.Position), defect.Symptom.Family());
        var progress = (await WorkProgress.ReadAsync(db, [defect.Tail], defect.State == DefectState.WorkDone ? [id] : [], now, stop)).GetValueOrDefault(id, Progress.None);
        var (tasks, work) = (book.Left(cabin.Code, fixture, family, progress), book.Work(cabin.Code, fixture, family, progress));
        var fit = new StayFit(book, here, cabin.Code, now).Of(fixture, work);
        var all = progress.IsDone ? [] : book.Jobs(cabin.Code, fixture.Kind, family);
        var place = CabinPlaces.Of(fixture.Kind);
        return new FitDetail(
            id.Value, here.Station.Value, place.ToString().ToLowerInvariant(), here.ArrivesAt, here.DepartsAt, fit, WorkTime.Of([.. tasks.Select(task => task.Time)], 2).ChanceWithin(fit.UsableMinutes),
            [.. tasks.Select(task => (Task: task, Time: WorkTime.Of([task.Time]))).Select(one => new FitTaskView(one.Task.Name, one.Time.Likely, one.Time.NineInTen, one.Task.Rests))],
            [.. all.Where(job => job.Chance >= 0.005).Select(job => (Job: job, Time: WorkTime.Of([job.Time]))).Select(one => new JobTimeView(one.Job.Kind, one.Job.Kind.Words(), one.Job.Chance, one.Time.Likely, one.Time.NineInTen, one.Job.OwnLayout, one.Job.OwnFleet))],
            [.. here.Blocks.Where(block => block.Activity.Blocks(place)).Select(block => new BlockView(block.Activity, block.Activity.Words(), block.From, block.To))],
            Curve(work, fit), book.Terms.PaperworkMinutes, book.Terms.ControlCallMinutes, await CostAsync(db, defect, fixture, cabin, book, stays.Skip(1), now, stop));
    }

    private static FitPoint[] Curve(WorkTime work, FitView fit)
    {
        var to = Math.Max(1, Math.Max(1.15 * work.Quantile(0.95), 1.1 * Math.Min(fit.UsableMinutes, 3 * fit.NineInTenMinutes)));
        return [.. Enumerable.Range(0, Points + 1).Select(at => to * at / Points).Select(minutes => new FitPoint(minutes, work.ChanceWithin(minutes)))];
    }

    private static async Task<DeferCost> CostAsync(DrainboardDb db, Defect defect, Fixture fixture, CabinLayout cabin, FitBook book, IEnumerable<Visit> ahead, Instant now, CancellationToken stop)
    {
        var bases = defect.Leak == LeakAnswer.Leaking ? Array.Empty<Domain.Deferrals.DeferralBasis>() : [.. (await db.Bases.AsNoTracking().ToArrayAsync(stop)).Where(basis => basis.Covers(fixture.Kind, cabin.Code)).OrderBy(basis => basis.Code, StringComparer.Ordinal)];
        var positions = cabin.Fixtures.Where(other => other.Kind == fixture.Kind).Select(other => other.Position).ToArray();
        var down = await db.Defects.AsNoTracking().Where(other => other.Tail == defect.Tail && other.State != DefectState.Closed && positions.Contains(other.Position)).Select(other => other.Position).Distinct().CountAsync(stop);
        var whole = book.Work(cabin.Code, fixture, defect.Symptom.Family(), Progress.None);
        return new DeferCost(
            [.. bases.Select(basis => $"{basis.Code}{(basis.Terms.Category is { } category ? $", category {category}" : "")}: {basis.Terms.Installed} installed, {basis.Terms.Required} required")],
            $"{down} of {positions.Length} {fixture.Kind.Words()}{(positions.Length == 1 ? "" : "s")} not in order", await ToiletsQuery.CostAsync(db, defect.Tail, cabin, fixture, stop),
            [.. ahead.Take(StaysShown).Select(visit => new NextStay(visit.Station.Value, visit.ArrivesAt, visit.DepartsAt, new StayFit(book, visit, cabin.Code, now).Of(fixture, whole)))]);
    }
}
