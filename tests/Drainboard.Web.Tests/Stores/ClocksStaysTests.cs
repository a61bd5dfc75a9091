using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Network;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.TurnFit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Stores;

/// <summary>The list of clocks reads only the stays that a clock can be asked about; it says what a reading of all of them says.</summary>
public sealed class ClocksStaysTests
{
    /// <summary>With one tail that stands for a week, and one item planned for the last stay that is known.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Clocks_OfTheDemo_NameTheStaysOfTheWholePlan(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var now = Instant.FromUtc(2026, 11, 25, 14, 5);
        var (started, reason) = await DrainboardHost.TryStartAsync(kind, now, demo: true);
        Assert.SkipWhen(started is null, reason);
        await using var host = started!;
        await using var db = await host.Db.CreateDbContextAsync(stop);
        var carried = await (from deferral in db.Deferrals.AsNoTracking()
                             where deferral.EndedAt == null
                             join defect in db.Defects.AsNoTracking() on deferral.Defect equals defect.Id
                             join tail in db.Tails.AsNoTracking() on defect.Tail equals tail.Id
                             orderby defect.Number
                             select new { Defect = defect, Tail = tail, deferral.DueAt }).ToArrayAsync(stop);
        var (standing, planned) = (carried[0].Tail, carried.First(row => row.Tail.Id != carried[0].Tail.Id));
        var week = now + Duration.FromDays(7);
        db.Turns.RemoveRange(await db.Turns.Where(turn => turn.Tail == standing.Id && turn.EstimatedArrival > now && turn.EstimatedArrival < week).ToArrayAsync(stop));
        var last = await db.Turns.Where(turn => turn.Tail == planned.Tail.Id).OrderByDescending(turn => turn.EstimatedArrival).FirstAsync(stop);
        var plan = new FleetPlan();
        plan.Give(now + Duration.FromDays(40), new FleetPlanContent([new FleetPlanItem(planned.Defect.Id.Value, planned.Defect.Number, planned.Tail.Registration.Value, "", last.Id.Value, last.Station.Value, "Etc/UTC", last.ArrivesAt, last.DepartsAt, 60, 1, 0)], [], 0), Actor.Installation, now);
        db.Add(plan);
        await db.SaveChangesAsync(stop);

        var view = await host.Services.GetRequiredService<ClocksQuery>().ReadAsync(stop);

        var lines = view.Lines.Concat(view.Awaiting).ToDictionary(line => line.Defect);
        var book = await host.Services.GetRequiredService<FleetJobs>().GetAsync(stop);
        var (plans, _, _) = await VisitPlans.ReadAsync(db, [.. carried.Select(row => row.Tail.Id).Distinct()], book.Terms, now, stop);
        Assert.Equal(carried.Select(row => row.Defect.Id.Value).Order(), lines.Keys.Order());
        foreach (var row in carried)
        {
            var layout = await host.Services.GetRequiredService<LayoutCatalog>().GetAsync(row.Tail.Layout, stop);
            var need = book.Need(layout.Code, ItemDoor.FixtureAt(layout, row.Defect.Position), row.Defect.Symptom.Family());
            var (line, whole) = (lines[row.Defect.Id.Value], plans[row.Tail.Id]);
            Assert.Equal(whole.From(now).Where(visit => visit.ArrivesAt > now).Take(3).Select(visit => (visit.Station.Value, visit.ArrivesAt)), line.Next.Select(visit => (visit.Station, visit.ArrivesAt)));
            Assert.Equal(row.DueAt is { } due && due > now ? whole.LastThatCanTake(need, now, due)?.ArrivesAt : null, line.LastVisit?.ArrivesAt);
        }

        Assert.Equal(3, lines[carried[0].Defect.Id.Value].Next.Count(visit => visit.ArrivesAt >= week));
        Assert.Equal((last.ArrivesAt, false), lines[planned.Defect.Id.Value].Planned is { } told ? (told.ArrivesAt, told.IsOver) : default);
    }
}
