using Drainboard.Data;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Testing.Processes;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Stores;

/// <summary>From every schema that there ever was to the newest, in one go, and with the process killed on the way.</summary>
public sealed class EverySchemaTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Upgrade_FromEveryEarlierSchema_EndsAsANewDatabaseBegins(DatabaseKind kind)
    {
        var (fresh, migrations) = await MigratedAsync(kind, null);
        Assert.True(fresh.Count > 300, $"{fresh.Count} lines of schema");
        foreach (var earlier in migrations[..^1])
        {
            Assert.Equal(fresh, (await MigratedAsync(kind, earlier)).Schema);
        }
    }

    /// <summary>Taken back to each earlier schema that has a way back, and up again, what people reported, what became of it and the sealed record are what they were, and the chains verify.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Upgrade_FromEveryEarlierSchema_KeepsWhatIsOnRecord(DatabaseKind kind)
    {
        var (setting, reason) = await TestDatabase.NewAsync(kind);
        Assert.SkipWhen(setting is null, reason);
        await using (var host = await DrainboardHost.OnAsync(setting!))
        {
            await Station.ReportedAsync(host);
            await Station.DeferredAsync(host);
            var done = await Station.WorkDoneAsync(host);
            await Station.MustAsync(host, "cert", done, "rectification/release", new { outcome = "rectified", log = Station.Log(host.Clock.GetCurrentInstant()), signingCode = SmallFleet.SigningCode });
        }

        await using var services = Services(setting!);
        await using var db = await services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContextAsync(Stop);
        var before = await OnRecordAsync(db);
        Assert.True(before.Count > 15, $"{before.Count} lines");

        // Further back there is no way down; there UpgradeTests begins with rows of the first release.
        foreach (var earlier in db.Database.GetMigrations().SkipWhile(name => !name.EndsWith("_PolicyVersionsAndFlights", StringComparison.Ordinal)).SkipLast(1).Reverse().ToArray())
        {
            await db.GetService<IMigrator>().MigrateAsync(earlier, Stop);
            await db.Database.MigrateAsync(Stop);
            Assert.Equal(before, await OnRecordAsync(db));
        }

        await db.Database.CloseConnectionAsync();
        var folder = Directory.CreateTempSubdirectory("drainboard-upgrade-").FullName;
        await using (var web = new WebProcess(Repository.Program, folder, new Dictionary<string, string> { ["DRAINBOARD_DATABASE"] = setting! }))
        {
            var (code, words) = await web.CommandAsync("verify-record");
            Assert.True(code == 0, words);
        }

        Directory.Delete(folder, recursive: true);
        await TestDatabase.DropAsync(setting!);
    }

    private static async Task<IReadOnlyList<string>> OnRecordAsync(DrainboardDb db) =>
    [
        .. await db.Record.OrderBy(entry => entry.Chain).ThenBy(entry => entry.Number).Select(entry => entry.Hash + " " + entry.Words).ToArrayAsync(Stop),
        .. (await db.Reports.AsNoTracking().ToArrayAsync(Stop)).OrderBy(report => report.Id.Value).Select(report => $"{report.Id} {report.Position} {report.Symptom} {report.SeenAt}"),
        .. (await db.Defects.AsNoTracking().ToArrayAsync(Stop)).OrderBy(defect => defect.Id.Value).Select(defect => $"{defect.Id} {defect.Number} {defect.State} {defect.Closure} {defect.ClosedAt}"),
        .. (await db.Work.AsNoTracking().Select(work => new { work.Id, work.Found, work.CompletedAt, work.Outcome }).ToArrayAsync(Stop)).Select(work => $"{work}"),
    ];

    /// <summary>A machine loses power in the middle of an upgrade, ten times; the next start ends it, with what was there.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Upgrade_KilledOnTheWay_IsEndedByTheNextStart(DatabaseKind kind)
    {
        var (fresh, migrations) = await MigratedAsync(kind, null);
        var dice = new Random(20261127);
        for (var round = 0; round < 5; round++)
        {
            var (setting, reason) = await TestDatabase.NewAsync(kind);
            Assert.SkipWhen(setting is null, reason);
            await using var services = Services(setting!);
            await using var db = await services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContextAsync(Stop);
            await db.GetService<IMigrator>().MigrateAsync(migrations[dice.Next(3)], Stop);
            await db.Database.CloseConnectionAsync();
            var folder = Directory.CreateTempSubdirectory("drainboard-upgrade-").FullName;
            await using (var web = new WebProcess(Repository.Program, folder, new Dictionary<string, string> { ["DRAINBOARD_DATABASE"] = setting! }))
            {
                for (var kill = 0; kill < 2; kill++)
                {
                    web.Launch();
                    await Task.Delay(dice.Next(700, 2500), Stop);
                    await web.KillAsync();
                }

                await web.StartAsync();
            }

            Assert.Equal(fresh, await SchemaOf.ReadAsync(db, kind, Stop));
            Directory.Delete(folder, recursive: true);
            await TestDatabase.DropAsync(setting!);
        }
    }

    /// <summary>What a process that died while it upgraded leaves behind in an embedded database would keep the next one waiting for ever.</summary>
    [Fact]
    public async Task LockOfADeadUpgrade_IsCleared_AndOnlyOneProcessHasTheFile()
    {
        var (setting, _) = await TestDatabase.NewAsync(DatabaseKind.Sqlite);
        await using var services = Services(setting!);
        await using var db = await services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContextAsync(Stop);
        await db.GetService<IMigrator>().MigrateAsync(db.Database.GetMigrations().First(), Stop);
        await db.Database.ExecuteSqlRawAsync("CREATE TABLE IF NOT EXISTS \"__EFMigrationsLock\" (\"Id\" INTEGER NOT NULL PRIMARY KEY, \"Timestamp\" TEXT NOT NULL); INSERT INTO \"__EFMigrationsLock\" VALUES (1, '2026-01-26 10:00:00')", Stop);
        await db.Database.CloseConnectionAsync();
        var folder = Directory.CreateTempSubdirectory("drainboard-upgrade-").FullName;
        await using (var web = new WebProcess(Repository.Program, folder, new Dictionary<string, string> { ["DRAINBOARD_DATABASE"] = setting! }))
        {
            await web.StartAsync();
            Assert.Single(Directory.GetFiles(folder, "before-upgrade-*.db"));
            Assert.Equal(0, (await web.CommandAsync("migrate")).Code);
            var (code, words) = await web.CommandAsync("--urls", "http://127.0.0.1:0");
            Assert.Equal(1, code);
            Assert.Contains("in use by another Drainboard process", words, StringComparison.Ordinal);
        }

        Directory.Delete(folder, recursive: true);
        await TestDatabase.DropAsync(setting!);
    }

    private static async Task<(IReadOnlyList<string> Schema, string[] Migrations)> MigratedAsync(DatabaseKind kind, string? from)
    {
        var (setting, reason) = await TestDatabase.NewAsync(kind);
        Assert.SkipWhen(setting is null, reason);
        await using (var services = Services(setting!))
        {
            await using var db = await services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContextAsync(Stop);
            if (from is not null)
            {
                await db.GetService<IMigrator>().MigrateAsync(from, Stop);
            }

            await db.Database.MigrateAsync(Stop);
            var schema = await SchemaOf.ReadAsync(db, kind, Stop);
            var migrations = db.Database.GetMigrations().ToArray();
            await db.Database.CloseConnectionAsync();
            await TestDatabase.DropAsync(setting!);
            return (schema, migrations);
        }
    }

    private static ServiceProvider Services(string setting) => new ServiceCollection().AddLogging().AddDrainboardData(DatabaseAddress.Parse(setting)).BuildServiceProvider();
}
