using System.Diagnostics;
using System.Security.Cryptography;
using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Demo;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Storage;
using NodaTime;

namespace Drainboard.Web.Hosting;

/// <summary>
/// What happens before the first request: the data folder, the database brought up to date, the demo in an empty embedded
/// database, or else a one-time link with which the first administrator is made. There is no default password.
/// </summary>
internal sealed class FirstRun(Settings settings, EmbeddedHold hold, DutyLock duties, IDbContextFactory<DrainboardDb> factory, IClock clock, DemoLoader demo, ILogger<FirstRun> log)
{
    public const string KeyFile = "demo-api-key.txt";

    private static readonly TimeSpan LongestUpgrade = TimeSpan.FromMinutes(10);

    private string? _setUpSecret;

    public async Task PrepareAsync(CancellationToken stop)
    {
        PrepareFolder();
        hold.Take();
        await MigrateAsync(stop);
        while (!await TryBeginAsync(stop))
        {
            // Another process began at the same moment: what it has written is seen now.
        }
    }

    /// <summary>Brings the schema up to date. Refuses a database that a newer program has touched; copies an embedded one aside first.</summary>
    public async Task MigrateAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        try
        {
            if (!await IsPendingAsync(db, stop))
            {
                return;
            }

            // A command beside the running service changes nothing of the schema; who does is alone.
            hold.Take();
            var creator = db.GetService<IRelationalDatabaseCreator>();
            if (settings.Database.IsPostgres && !await creator.ExistsAsync(stop))
            {
                await creator.CreateAsync(stop);
            }

            await using var alone = await AloneAsync(stop);
            if (await IsPendingAsync(db, stop))
            {
                await CopyAsideAsync(db, stop);
                await ClearLockAsync(db, stop);
                await db.Database.MigrateAsync(stop);
            }
        }
        catch (Exception failure) when (failure is SqliteException or Npgsql.NpgsqlException)
        {
            throw new StartRefusedException($"The database cannot be opened: {failure.Message} Check DRAINBOARD_DATABASE, that the server runs, and that this account may create tables.", failure);
        }
    }

    public void SayWhereWeAre(IEnumerable<string> urls)
    {
        // Bound to every address, it is reached from here by this one.
        var address = (urls.FirstOrDefault() ?? "http://localhost:5000").Replace("[::]", "localhost", StringComparison.Ordinal).Replace("0.0.0.0", "localhost", StringComparison.Ordinal);
        Console.WriteLine();
        Console.WriteLine($"Drainboard is open at {address}");
        Console.WriteLine($"Data folder: {settings.DataFolder}{(settings.Database.IsPostgres ? " (the data itself is in PostgreSQL)" : "")}");
        if (_setUpSecret is not null)
        {
            Console.WriteLine($"No administrator yet. Open this link once{(settings.Proxies.Count > 0 ? ", at the balancer's address in the place of this one" : "")}: {address}/set-up/first?secret={_setUpSecret}");
        }

        Console.WriteLine("Stop with Ctrl+C.");
    }

    private void PrepareFolder()
    {
        try
        {
            Directory.CreateDirectory(settings.DataFolder);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw new StartRefusedException($"The data folder {settings.DataFolder} cannot be created: {failure.Message} Set DRAINBOARD_DATA to a folder that this account may write to.", failure);
        }
    }

    private async Task<bool> TryBeginAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        try
        {
            var installation = await db.Installations.SingleOrDefaultAsync(stop);
            if (installation is null)
            {
                await BeginAsync(db, stop);
            }
            else if (installation.SetUpSecretHash.Length > 0)
            {
                await NewSetUpLinkAsync(db, installation, stop);
            }

            return true;
        }
        catch (DbUpdateException failure) when (failure is DbUpdateConcurrencyException || db.IsDuplicateKey(failure))
        {
            return false;
        }
    }

    private async Task BeginAsync(DrainboardDb db, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        var isEmpty = !await db.Stations.AnyAsync(stop) && !await db.Users.AnyAsync(stop);
        if (settings.DemoAllowed && isEmpty)
        {
            var secret = await demo.LoadAsync(stop);
            await File.WriteAllTextAsync(Path.Combine(settings.DataFolder, KeyFile), secret + Environment.NewLine, stop);
            return;
        }

        var installation = new Installation("Operator not named yet", false, now);
        db.Installations.Add(installation);
        await NewSetUpLinkAsync(db, installation, stop);
    }

    private async Task NewSetUpLinkAsync(DrainboardDb db, Installation installation, CancellationToken stop)
    {
        var secret = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        installation.AwaitSetUp(ApiKey.HashOf(secret));
        await db.SaveAsync(new Writing(Actor.Installation, clock.GetCurrentInstant(), []), stop);
        _setUpSecret = secret;
    }

    private static async Task<bool> IsPendingAsync(DrainboardDb db, CancellationToken stop)
    {
        var known = db.Database.GetMigrations().ToHashSet();
        var applied = (await db.Database.GetAppliedMigrationsAsync(stop)).ToArray();
        return applied.FirstOrDefault(name => !known.Contains(name)) is { } newer
            ? throw new StartRefusedException($"This database was upgraded by a newer Drainboard (it has {newer}). Start that version, or restore the backup made before the upgrade.")
            : known.Except(applied).Any();
    }

    // Several processes may start at the same moment: one upgrades, and the others find it done.
    private async Task<IAsyncDisposable> AloneAsync(CancellationToken stop)
    {
        for (var watch = Stopwatch.StartNew(); watch.Elapsed < LongestUpgrade; await Task.Delay(TimeSpan.FromMilliseconds(100), stop))
        {
            if (await duties.TryTakeAsync("upgrade", stop) is { } held)
            {
                return held;
            }
        }

        throw new StartRefusedException("Another process has been upgrading this database for ten minutes. If it still is, wait for it and start again; if it is gone, PostgreSQL lets go of its lock when it notices (pg_locks names the connection).");
    }

    // One that died while it upgraded an embedded database left its mark there, and would be waited for without end. PostgreSQL's goes with the connection.
    private async Task ClearLockAsync(DrainboardDb db, CancellationToken stop)
    {
        if (!settings.Database.IsPostgres && await db.Database.SqlQuery<int>($"SELECT COUNT(*) AS \"Value\" FROM sqlite_master WHERE name = '__EFMigrationsLock'").SingleAsync(stop) > 0)
        {
            await db.Database.ExecuteSqlAsync($"DELETE FROM \"__EFMigrationsLock\"", stop);
        }
    }

    private async Task CopyAsideAsync(DrainboardDb db, CancellationToken stop)
    {
        if (settings.Database.IsPostgres || !(await db.Database.GetAppliedMigrationsAsync(stop)).Any())
        {
            return;
        }

        var copy = Path.Combine(settings.DataFolder, $"before-upgrade-{clock.GetCurrentInstant().ToUnixTimeSeconds()}.db");
        await db.Database.ExecuteSqlAsync($"VACUUM INTO {copy}", stop);
        log.LogInformation("Copied the database to {Copy} before upgrading it", copy);
    }
}
