using Drainboard.Data;
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
