using Drainboard.Testing.Processes;
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

        if (PostgresCluster.Binaries is null)
        {
            return (null, "No PostgreSQL: set DRAINBOARD_TEST_POSTGRES, start Docker, or install the server (bash tests/run.sh does).");
        }

        var cluster = await PostgresCluster.StartAsync(PostgresCluster.Fast);
        AppDomain.CurrentDomain.ProcessExit += (_, _) => cluster.DisposeAsync().AsTask().Wait(TimeSpan.FromSeconds(10));
        return (cluster["postgres"], "");
    }
}
