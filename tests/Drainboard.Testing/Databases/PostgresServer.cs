using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using Npgsql;
using Testcontainers.PostgreSql;

namespace Drainboard.Testing.Databases;

/// <summary>
/// A PostgreSQL server for the tests of one process: the one named in DRAINBOARD_TEST_POSTGRES, else a container where a
/// Docker engine answers, else a private cluster made with the installed binaries. Null with a reason where there is none.
/// </summary>
public static class PostgresServer
{
    private static readonly Lazy<Task<(string? Admin, string Reason)>> Server = new(StartAsync);
    private static int _databases;

    /// <returns>The connection string of a new, empty database, or null and why there is none.</returns>
    public static async Task<(string? ConnectionString, string Reason)> NewDatabaseAsync()
    {
        var (admin, reason) = await Server.Value;
        if (admin is null)
        {
            return (null, reason);
        }

        var name = $"drainboard_test_{Environment.ProcessId}_{Interlocked.Increment(ref _databases)}";
        await RunSqlAsync(admin, $"CREATE DATABASE {name}");
        return (new NpgsqlConnectionStringBuilder(admin) { Database = name, MaxPoolSize = 20 }.ConnectionString, "");
    }

    public static async Task DropAsync(string connectionString)
    {
        var (admin, _) = await Server.Value;
        await using (var connection = new NpgsqlConnection(connectionString))
        {
            NpgsqlConnection.ClearPool(connection);
        }

        await RunSqlAsync(admin!, $"DROP DATABASE IF EXISTS {new NpgsqlConnectionStringBuilder(connectionString).Database} WITH (FORCE)");
    }

    private static async Task RunSqlAsync(string admin, string sql)
    {
        await using var connection = new NpgsqlConnection(admin);
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync();
    }

    private static async Task<(string? Admin, string Reason)> StartAsync()
    {
        if (Environment.GetEnvironmentVariable("DRAINBOARD_TEST_POSTGRES") is { Length: > 0 } named)
        {
            return (named, "");
        }

        if (File.Exists("/var/run/docker.sock"))
        {
            var container = new PostgreSqlBuilder("postgres:17-alpine").Build();
            await container.StartAsync();
            return (container.GetConnectionString(), "");
        }

        var binaries = Directory.Exists("/usr/lib/postgresql")
            ? Directory.GetDirectories("/usr/lib/postgresql").Select(version => Path.Combine(version, "bin")).Where(bin => File.Exists(Path.Combine(bin, "initdb"))).Order().LastOrDefault()
            : null;
        return binaries is null
            ? (null, "No PostgreSQL: set DRAINBOARD_TEST_POSTGRES, start Docker, or install the server (bash tests/run.sh does).")
            : (await StartClusterAsync(binaries), "");
    }

    private static async Task<string> StartClusterAsync(string binaries)
    {
        var folder = Directory.CreateTempSubdirectory("drainboard-pg-").FullName;
        var port = FreePort();
        var asPostgres = Environment.UserName == "root";
        if (asPostgres)
        {
            await RunAsync("chown", "postgres", folder);
        }

        // Speed over safety: this cluster is thrown away.
        await AsServerUserAsync(asPostgres, Path.Combine(binaries, "initdb"), "-D", $"{folder}/data", "-U", "drainboard", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync");
        await AsServerUserAsync(asPostgres, Path.Combine(binaries, "pg_ctl"), "-D", $"{folder}/data", "-l", $"{folder}/log", "-w", "-o", $"-p {port} -k {folder} -c listen_addresses=127.0.0.1 -c fsync=off -c full_page_writes=off -c wal_level=minimal -c max_wal_senders=0 -c max_wal_size=128MB -c max_connections=300", "start");
        AppDomain.CurrentDomain.ProcessExit += (_, _) =>
        {
            AsServerUserAsync(asPostgres, Path.Combine(binaries, "pg_ctl"), "-D", $"{folder}/data", "-m", "immediate", "stop").Wait(TimeSpan.FromSeconds(10));
            Directory.Delete(folder, recursive: true);
        };
        return $"Host=127.0.0.1;Port={port};Username=drainboard;Database=postgres";
    }

    private static Task AsServerUserAsync(bool asPostgres, string program, params string[] args) =>
        asPostgres ? RunAsync("runuser", ["-u", "postgres", "--", program, .. args]) : RunAsync(program, args);

    private static async Task RunAsync(string program, params string[] args)
    {
        // The server inherits what it is started with, so nothing of ours is piped to it.
        using var process = Process.Start(new ProcessStartInfo("/bin/sh", ["-c", "exec \"$0\" \"$@\" > /dev/null 2>&1", program, .. args]) { WorkingDirectory = "/" })!;
        await process.WaitForExitAsync();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{program} {string.Join(' ', args)} ended with {process.ExitCode}.");
        }
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
