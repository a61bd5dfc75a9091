using System.Diagnostics;
using System.Security.Cryptography;
using System.Text.Json;
using Drainboard.Data;
using Drainboard.Web.Hosting;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using Npgsql;

namespace Drainboard.Web.Features.Records;

/// <summary>
/// Backups as a folder: the data (photos are part of it), the published seals, and a manifest. The embedded database is copied by itself
/// while it is in use; PostgreSQL's own tools do it there. A restore goes into an empty database only, and proves the record before it says done.
/// </summary>
public sealed class Backups(IDbContextFactory<DrainboardDb> factory, RecordQuery record, Settings settings, IClock clock)
{
    private static readonly JsonSerializerOptions Json = Wire.Configure(new JsonSerializerOptions { WriteIndented = true });

    /// <exception cref="BackupFailedException">It could not be made; the message says what to do.</exception>
    public async Task<BackupManifest> MakeAsync(string folder, CancellationToken stop)
    {
        if (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any())
        {
            throw new BackupFailedException($"{folder} is not empty. Name a new folder: a backup never writes over another.");
        }

        // Before the copy: while it is made the record may grow, never shrink.
        var found = await record.VerifyAsync(stop, await SealPublisher.ReadAsync(Path.Combine(settings.DataFolder, SealPublisher.FileName), stop));
        if (!found.Whole)
        {
            throw new BackupFailedException($"The record does not hold: {found.Breaks[0].Words} Find out what happened (verify-record); copy the database with its own tools meanwhile.");
        }

        // The seals first: one that is made meanwhile is then in the data and not in the file, never the other way round.
        Directory.CreateDirectory(folder);
        var seals = Path.Combine(settings.DataFolder, SealPublisher.FileName);
        if (File.Exists(seals))
        {
            File.Copy(seals, Path.Combine(folder, SealPublisher.FileName));
        }

        var (name, kind) = settings.Database.IsPostgres ? ("drainboard.dump", "postgres") : ("drainboard.db", "sqlite");
        var data = Path.Combine(folder, name);
        await using (var db = await factory.CreateDbContextAsync(stop))
        {
            if (settings.Database.IsPostgres)
            {
                await ToolAsync("pg_dump", settings.Database.ConnectionString, null, ["--format=custom", "--no-owner", "--no-privileges", $"--file={data}"], stop);
            }
            else
            {
                await db.Database.ExecuteSqlAsync($"VACUUM INTO {data}", stop);
            }
        }

        var manifest = new BackupManifest(BackupManifest.FormatName, clock.GetCurrentInstant(), kind, name, await HashAsync(data, stop), found.Entries, found.Chains, found.Compared);
        await File.WriteAllTextAsync(Path.Combine(folder, BackupManifest.FileName), JsonSerializer.Serialize(manifest, Json), stop);
        return manifest;
    }

    /// <summary>Reads the manifest and checks that the data is what it says.</summary>
    /// <exception cref="BackupFailedException">It is not; the message says what is wrong.</exception>
    public async Task<BackupManifest> ReadAsync(string folder, CancellationToken stop)
    {
        BackupManifest? manifest;
        try
        {
            manifest = JsonSerializer.Deserialize<BackupManifest>(await File.ReadAllTextAsync(Path.Combine(folder, BackupManifest.FileName), stop), Json);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or JsonException)
        {
            throw new BackupFailedException($"{folder} holds no backup that can be read: {failure.Message}", failure);
        }

        if (manifest is not { Format: BackupManifest.FormatName })
        {
            throw new BackupFailedException($"{folder} holds a backup of another format. Use the program that made it.");
        }

        var data = Path.Combine(folder, manifest.Data);
        if (Path.GetFileName(manifest.Data) != manifest.Data || !File.Exists(data))
        {
            throw new BackupFailedException($"{manifest.Data} is missing in {folder}.");
        }

        return await HashAsync(data, stop) == manifest.Sha256 ? manifest : throw new BackupFailedException($"{manifest.Data} is not the one that the manifest describes: it was cut short or altered. Use another backup.");
    }

    /// <summary>Restores into the database that the settings name, which must be empty.</summary>
    /// <param name="isTrial">Into a scratch database: the data folder is left alone.</param>
    public async Task<Verification> RestoreAsync(string folder, CancellationToken stop, bool isTrial = false)
    {
        var manifest = await ReadAsync(folder, stop);
        if (manifest.Database == "postgres" != settings.Database.IsPostgres)
        {
            throw new BackupFailedException($"This is a backup of {(manifest.Database == "postgres" ? "PostgreSQL" : "the embedded database")}, and DRAINBOARD_DATABASE names the other kind. Restore into the same kind.");
        }

        // Read before anything is put in place: a file of seals that cannot be read is found now.
        var published = await SealPublisher.ReadAsync(Path.Combine(folder, SealPublisher.FileName), stop);
        if (published.Count < manifest.Seals)
        {
            throw new BackupFailedException($"The manifest says that {manifest.Seals} seals had been published, and {SealPublisher.FileName} in {folder} has {published.Count}. Bring the file back; without it nothing proves that the data is what was sealed.");
        }

        var data = Path.Combine(folder, manifest.Data);
        if (settings.Database.IsPostgres)
        {
            await MustBeEmptyAsync(settings.Database.ConnectionString, stop);
            await ToolAsync("pg_restore", settings.Database.ConnectionString, "--dbname", ["--no-owner", "--no-privileges", "--exit-on-error", "--single-transaction", data], stop);
        }
        else
        {
            var file = new SqliteConnectionStringBuilder(settings.Database.ConnectionString).DataSource;
            if (new[] { file, $"{file}-wal", $"{file}-shm" }.FirstOrDefault(File.Exists) is { } there)
            {
                throw new BackupFailedException($"{there} exists already. Move it aside together with its -wal and -shm, or name another place with DRAINBOARD_DATA: a restore never writes over data.");
            }

            Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(file))!);
            File.Copy(data, file);
            await using var db = await factory.CreateDbContextAsync(stop);

            // A copy made by VACUUM INTO has the plain journal; readers are free of writers with the other.
            await db.Database.ExecuteSqlRawAsync("PRAGMA journal_mode = wal", stop);
        }

        var (kept, own) = (Path.Combine(folder, SealPublisher.FileName), Path.Combine(settings.DataFolder, SealPublisher.FileName));
        if (!isTrial && File.Exists(kept) && !File.Exists(own))
        {
            Directory.CreateDirectory(settings.DataFolder);
            File.Copy(kept, own);
        }

        if (!isTrial)
        {
            await EndSignInsAsync(stop);
        }

        var found = await record.VerifyAsync(stop, published);
        return !found.Whole || (found.Entries >= manifest.Entries && found.Chains >= manifest.Chains) ? found : throw new BackupFailedException($"The restored record has {found.Entries} entries in {found.Chains} chains; the manifest says at least {manifest.Entries} in {manifest.Chains}.");
    }

    /// <summary>Who was signed in when the backup was made may have signed out since.</summary>
    private async Task EndSignInsAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        if ((await db.Database.GetPendingMigrationsAsync(stop)).Any())
        {
            // Of a version that may not have had them; its cookies name none that is open.
            return;
        }

        var now = clock.GetCurrentInstant();
        await db.SignIns.Where(signIn => signIn.EndedAt == null).ExecuteUpdateAsync(signIn => signIn.SetProperty(one => one.EndedAt, now), stop);
    }

    /// <summary>Restores into a scratch database, proves the record there, and is rid of it again.</summary>
    public async Task<Verification> TryAsync(string folder, CancellationToken stop)
    {
        await ReadAsync(folder, stop);
        var (address, drop) = await ScratchAsync(stop);
        try
        {
            await using var services = new ServiceCollection().AddLogging().AddDrainboardData(address).BuildServiceProvider();
            var scratch = services.GetRequiredService<IDbContextFactory<DrainboardDb>>();
            return await new Backups(scratch, new RecordQuery(scratch), settings with { Database = address }, clock).RestoreAsync(folder, stop, isTrial: true);
        }
        finally
        {
            await drop();
        }
    }

    private async Task<(DatabaseAddress Address, Func<Task> Drop)> ScratchAsync(CancellationToken stop)
    {
        if (!settings.Database.IsPostgres)
        {
            var folder = Directory.CreateTempSubdirectory("drainboard-verify-").FullName;
            return (DatabaseAddress.Embedded(Path.Combine(folder, "drainboard.db")), () =>
            {
                SqliteConnection.ClearAllPools();
                Directory.Delete(folder, recursive: true);
                return Task.CompletedTask;
            });
        }

        var name = $"drainboard_verify_{clock.GetCurrentInstant().ToUnixTimeMilliseconds()}";
        await RunSqlAsync($"CREATE DATABASE {name}", stop);
        return (new DatabaseAddress(true, new NpgsqlConnectionStringBuilder(settings.Database.ConnectionString) { Database = name, Pooling = false }.ConnectionString), () => RunSqlAsync($"DROP DATABASE {name} WITH (FORCE)", CancellationToken.None));
    }

    private async Task RunSqlAsync(string sql, CancellationToken stop)
    {
        try
        {
            await using var connection = new NpgsqlConnection(settings.Database.ConnectionString);
            await connection.OpenAsync(stop);
            await using var command = connection.CreateCommand();
#pragma warning disable CA2100 // A name of our own making: digits and an underscore.
            command.CommandText = sql;
#pragma warning restore CA2100
            await command.ExecuteNonQueryAsync(stop);
        }
        catch (NpgsqlException failure)
        {
            throw new BackupFailedException($"A scratch database is needed to look into the backup: {failure.Message} Let this account create databases, or restore into an empty database of your own.", failure);
        }
    }

    private static async Task MustBeEmptyAsync(string connectionString, CancellationToken stop)
    {
        await using var connection = new NpgsqlConnection(connectionString);
        await connection.OpenAsync(stop);
        await using var command = new NpgsqlCommand("SELECT count(*) FROM information_schema.tables WHERE table_schema = 'public'", connection);
        if ((long)(await command.ExecuteScalarAsync(stop))! > 0)
        {
            throw new BackupFailedException("The database is not empty. Create a new one and name it in DRAINBOARD_DATABASE: a restore never writes over data.");
        }
    }

    private static async Task<string> HashAsync(string file, CancellationToken stop)
    {
        await using var stream = File.OpenRead(file);
        return Convert.ToHexStringLower(await SHA256.HashDataAsync(stream, stop));
    }

    // The password goes by the environment, where other people's process lists do not show it.
    private static async Task ToolAsync(string tool, string connectionString, string? databaseOption, IReadOnlyList<string> arguments, CancellationToken stop)
    {
        var address = new NpgsqlConnectionStringBuilder(connectionString);
        var start = new ProcessStartInfo(tool) { RedirectStandardError = true, UseShellExecute = false };
        foreach (var argument in (IEnumerable<string>)[$"--host={address.Host}", $"--port={address.Port}", $"--username={address.Username}", "--no-password", .. databaseOption is null ? [] : new[] { $"{databaseOption}={address.Database}" }, .. arguments, .. databaseOption is null ? [address.Database!] : Array.Empty<string>()])
        {
            start.ArgumentList.Add(argument);
        }

        start.Environment["PGPASSWORD"] = address.Password ?? "";
        start.Environment["PGSSLMODE"] = address.SslMode switch { SslMode.VerifyFull => "verify-full", SslMode.VerifyCA => "verify-ca", SslMode.Require => "require", SslMode.Disable => "disable", SslMode.Allow => "allow", _ => "prefer" };
        try
        {
            using var process = Process.Start(start) ?? throw new BackupFailedException($"{tool} did not start.");
            var trouble = await process.StandardError.ReadToEndAsync(stop);
            await process.WaitForExitAsync(stop);
            if (process.ExitCode != 0)
            {
                throw new BackupFailedException($"{tool} failed: {trouble.Trim()}");
            }
        }
        catch (System.ComponentModel.Win32Exception failure)
        {
            throw new BackupFailedException($"{tool} is not installed. It comes with PostgreSQL's client tools, of the server's version or newer.", failure);
        }
    }
}
