using Drainboard.Data;
using Drainboard.Domain.Records;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Records;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Stores;

/// <summary>Backups of either database restore with every photo and a record that holds; what was tampered with is not restored.</summary>
public sealed class BackupTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("drainboard-backup-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Backup_RestoredIntoAnEmptyDatabase_HoldsWithEveryRow(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        await using var host = await StartAsync(kind);
        await Station.WorkDoneAsync(host);
        await host.Services.GetRequiredService<SealMaker>().RunAsync(stop);
        await host.Services.GetRequiredService<SealPublisher>().RunAsync(stop);
        var backups = host.Services.GetRequiredService<Backups>();
        var made = await backups.MakeAsync(Path.Combine(_folder, "one"), stop);
        await Assert.ThrowsAsync<BackupFailedException>(() => backups.MakeAsync(Path.Combine(_folder, "one"), stop));
        await Assert.ThrowsAsync<BackupFailedException>(() => backups.RestoreAsync(Path.Combine(_folder, "one"), stop));

        var found = await backups.TryAsync(Path.Combine(_folder, "one"), stop);

        Assert.True(found.Whole, string.Join("; ", found.Breaks.Select(broken => broken.Words)));
        Assert.Equal((made.Entries, made.Chains, 1), (found.Entries, found.Chains, found.Seals));
    }

    /// <summary>For good, into a new database that the settings name: every row is there, the photos' bytes too.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Restore_IntoANewDatabase_BringsThePhotosToo(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        await using var host = await StartAsync(kind);
        var folder = Path.Combine(_folder, "three");
        await using (var db = await host.Db.CreateDbContextAsync(stop))
        {
            db.Photos.Add(new Data.Records.Photo(new string('a', 64), "image/png", [1, 2, 3], host.Clock.GetCurrentInstant()));
            await db.SaveChangesAsync(stop);
        }

        await host.Services.GetRequiredService<Backups>().MakeAsync(folder, stop);
        var (setting, reason) = await TestDatabase.NewAsync(kind);
        Assert.SkipWhen(setting is null, reason);
        await using var services = new ServiceCollection().AddLogging().AddDrainboardData(DatabaseAddress.Parse(setting!)).BuildServiceProvider();
        var empty = services.GetRequiredService<IDbContextFactory<DrainboardDb>>();

        await new Backups(empty, new RecordQuery(empty), host.Services.GetRequiredService<Settings>() with { Database = DatabaseAddress.Parse(setting!) }, host.Clock).RestoreAsync(folder, stop);

        await using var restored = await empty.CreateDbContextAsync(stop);
        Assert.Equal([1, 2, 3], (await restored.Photos.SingleAsync(stop)).Bytes);
        Assert.Equal(20, await restored.Users.CountAsync(stop));
    }

    [Fact]
    public async Task Backup_ThatWasAltered_IsRefused()
    {
        var stop = TestContext.Current.CancellationToken;
        await using var host = await StartAsync(DatabaseKind.Sqlite);
        var (backups, folder) = (host.Services.GetRequiredService<Backups>(), Path.Combine(_folder, "two"));
        var made = await backups.MakeAsync(folder, stop);
        await File.AppendAllTextAsync(Path.Combine(folder, made.Data), "x", stop);

        var failure = await Assert.ThrowsAsync<BackupFailedException>(() => backups.ReadAsync(folder, stop));

        Assert.Contains("cut short or altered", failure.Message, StringComparison.Ordinal);
    }

    /// <summary>The record goes from one kind of database to the other by its export, and every hash with it.</summary>
    [Fact]
    public async Task Record_ExportedFromOneDatabaseAndImportedIntoTheOther_KeepsEveryHash()
    {
        var stop = TestContext.Current.CancellationToken;
        await using var from = await StartAsync(DatabaseKind.Sqlite);
        await using var to = await StartAsync(DatabaseKind.Postgres);
        await Station.WorkDoneAsync(from);
        await using var db = await from.Db.CreateDbContextAsync(stop);
        var chain = (await db.Record.Select(entry => entry.Chain).Distinct().ToArrayAsync(stop)).Single(key => key.Value.StartsWith("tail:", StringComparison.Ordinal));
        var lines = new List<string>();
        await foreach (var line in from.Services.GetRequiredService<ExportQuery>().ReadAsync(chain, stop))
        {
            lines.Add(line);
        }

        Assert.Null(ExportedRecord.Check(lines).Break);
        await using var other = await to.Db.CreateDbContextAsync(stop);
        other.AddRange(lines.Skip(1).Select(line => ExportedRecord.Read(System.Text.Json.JsonDocument.Parse(line).RootElement)));
        await other.SaveChangesAsync(stop);

        Assert.Equal(await db.Record.Where(entry => entry.Chain == chain).OrderBy(entry => entry.Number).Select(entry => entry.Hash).ToArrayAsync(stop), await other.Record.Where(entry => entry.Chain == chain).OrderBy(entry => entry.Number).Select(entry => entry.Hash).ToArrayAsync(stop));
        var check = new ChainCheck(chain);
        Assert.All(await other.Record.AsNoTracking().Where(entry => entry.Chain == chain).OrderBy(entry => entry.Number).ToArrayAsync(stop), entry => Assert.Null(check.Take(entry)));
    }

    private static async Task<DrainboardHost> StartAsync(DatabaseKind kind)
    {
        var (host, reason) = await DrainboardHost.TryStartAsync(kind);
        Assert.SkipWhen(host is null, reason);
        return host!;
    }
}
