using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Demo;
using Drainboard.Web.Features.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Stores;

/// <summary>The invented airline has the size and the hidden structure that it promises, and keeps every rule.</summary>
public sealed class DemoTests
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Demo_Loaded_HasItsSizeItsStructureAndAWholeRecord(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var (host, reason) = await DrainboardHost.TryStartAsync(kind, Instant.FromUtc(2026, 11, 25, 14, 5), demo: true);
        Assert.SkipWhen(host is null, reason);
        await using var running = host!;
        await using var db = await host!.Db.CreateDbContextAsync(stop);

        Assert.Equal((5, 3, 24), (await db.Stations.CountAsync(stop), await db.Layouts.CountAsync(stop), await db.Tails.CountAsync(stop)));
        Assert.All(await db.Layouts.ToArrayAsync(stop), layout => Assert.InRange(layout.Fixtures.Count, 40, 110));
        Assert.InRange(await db.Defects.CountAsync(stop), 2500, 3500);
        Assert.True((await host.Services.GetRequiredService<RecordQuery>().VerifyAsync(stop)).Whole);

        // Grounds dominate the galley strainers; the rogue sink stands out from its own tail.
        var work = await db.Work.AsNoTracking().Select(done => new { done.Found, done.FoundAt, done.Position, done.Tail }).ToArrayAsync(stop);
        var galley = work.Where(done => done.FoundAt.Value.StartsWith("S-G", StringComparison.Ordinal)).ToArray();
        Assert.True(galley.Count(done => done.Found == Found.Grounds) > galley.Length * 0.4);
        var mark = Registration.Parse("QQ-MRA");
        var rogue = await db.Tails.SingleAsync(tail => tail.Registration == mark, stop);
        var perFixture = work.Where(done => done.Tail == rogue.Id).CountBy(done => done.Position.Value).OrderByDescending(pair => pair.Value).ToArray();
        Assert.Equal("K-G4-2", perFixture[0].Key);
        Assert.True(perFixture[0].Value > 2 * perFixture[1].Value);
        Assert.True(await db.Defects.CountAsync(defect => defect.Repeat != null, stop) > 10);
    }

    /// <summary>Whenever it is loaded, the invented people do nothing that the rules refuse (the demo throws if they do), and nothing lies in the future.</summary>
    [Fact]
    public async Task Demo_AtAnyHour_KeepsTheRules()
    {
        var stop = TestContext.Current.CancellationToken;
        var (host, _) = await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite, Instant.FromUtc(2026, 11, 25, 14, 5), demo: true);
        await using var running = host!;
        await using var db = await host!.Db.CreateDbContextAsync(stop);
        var cast = new DemoCast(await db.Users.AsNoTracking().ToArrayAsync(stop));
        var layouts = await db.Layouts.AsNoTracking().ToDictionaryAsync(layout => layout.Id, stop);
        var bases = await db.Bases.AsNoTracking().ToArrayAsync(stop);
        var tails = await db.Tails.AsNoTracking().ToArrayAsync(stop);
        var cards = await db.WorkCards.AsNoTracking().ToArrayAsync(stop);
        for (var run = 0; run < 300; run++)
        {
            var now = Instant.FromUtc(2026, 1, 1, 0, 0) + Duration.FromMinutes(run * 1777L);
            var tail = tails[run % tails.Length];
            var life = new DemoLife(tail, layouts[tail.Layout], bases, cards, cast, new Dice(run), now);
            life.Live(90);
            life.ReportedNow();
            life.LeakNow();
            life.OpenNow();
            life.WaitingForAPart();
            life.FittedWithoutCertificate();
            life.AwaitingRelease();
            life.Proposed();
            life.DeferredSince(2, Category.B);
            life.DeferredSince(4, Category.C);
            life.CountedInFlights([]);
            if (layouts[tail.Layout].Code != "N1")
            {
                life.VacuumGeneratorOut();
            }

            Assert.All(life.Deeds, deed => Assert.True(deed.At <= now, $"Run {run}: {deed.Fact.Words} at {deed.At}, now {now}"));
        }
    }

    /// <summary>The same seed gives the same airline: two loads at the same instant hold the same story.</summary>
    [Fact]
    public async Task Demo_LoadedTwice_IsTheSame()
    {
        async Task<string[]> LinesAsync()
        {
            var (host, _) = await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite, Instant.FromUtc(2026, 11, 25, 14, 5), demo: true);
            await using var running = host!;
            await using var db = await host!.Db.CreateDbContextAsync(TestContext.Current.CancellationToken);
            var rows = await (from defect in db.Defects.AsNoTracking() join tail in db.Tails.AsNoTracking() on defect.Tail equals tail.Id select new { tail.Registration, defect.Number, defect.Position, defect.Symptom, defect.RecordedAt, defect.State }).ToArrayAsync(TestContext.Current.CancellationToken);
            return [.. rows.Select(row => $"{row.Registration} {row.Number} {row.Position} {row.Symptom} {row.RecordedAt} {row.State}").Order(StringComparer.Ordinal)];
        }

        Assert.Equal(await LinesAsync(), await LinesAsync());
    }
}
