using System.Diagnostics;
using Npgsql;

namespace Drainboard.Testing.Processes;

/// <summary>
/// A PostgreSQL cluster of its own made with the installed binaries, in a folder that goes when it is disposed of. It can be killed, started again,
/// followed by a standby, and promoted.
/// </summary>
public sealed class PostgresCluster : IAsyncDisposable
{
    /// <summary>Speed over safety, for a cluster that is thrown away.</summary>
    public const string Fast = "-c fsync=off -c full_page_writes=off -c wal_level=minimal -c max_wal_senders=0 -c max_wal_size=128MB -c max_connections=300";

    /// <summary>As it comes, with room for connections: what is said to be committed is on the disk.</summary>
    public const string Durable = "-c max_connections=200";

    private static readonly bool AsRoot = Environment.UserName == "root";

    private readonly string _binaries;
    private readonly string _folder;
    private readonly string _options;

    private PostgresCluster(string binaries, string folder, string options) => (_binaries, _folder, _options) = (binaries, folder, options);

    public int Port { get; } = Ports.Free();

    /// <summary>The connection string of one of its databases.</summary>
    public string this[string database] => $"Host=127.0.0.1;Port={Port};Username=drainboard;Database={database}";

    private string Data => Path.Combine(_folder, "data");

    /// <returns>The folder of the newest server's programs, or null where none is installed.</returns>
    public static string? Binaries { get; } = Directory.Exists("/usr/lib/postgresql")
        ? Directory.GetDirectories("/usr/lib/postgresql").Select(version => Path.Combine(version, "bin")).Where(bin => File.Exists(Path.Combine(bin, "initdb"))).Order().LastOrDefault()
        : null;

    /// <summary>A new cluster, running.</summary>
    /// <param name="options">What the server is started with, in its own words.</param>
    public static async Task<PostgresCluster> StartAsync(string options)
    {
        var cluster = new PostgresCluster(Binaries ?? throw new InvalidOperationException("No PostgreSQL: bash tests/run.sh installs it."), await NewFolderAsync(), options);
        await cluster.AsServerAsync("initdb", "-D", cluster.Data, "-U", "drainboard", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync");
        await cluster.StartAsync();
        return cluster;
    }

    /// <summary>A standby of this one, running. The primary waits for it with every commit once it is named in synchronous_standby_names.</summary>
    public async Task<PostgresCluster> StandbyAsync(string name)
    {
        var standby = new PostgresCluster(_binaries, await NewFolderAsync(), _options);
        await AsServerAsync("pg_basebackup", "-D", standby.Data, "-h", "127.0.0.1", "-p", $"{Port}", "-U", "drainboard", "-X", "stream", "-c", "fast", "-R", "-d", $"application_name={name}");
        await standby.StartAsync();
        return standby;
    }

    public Task StartAsync() => AsServerAsync("pg_ctl", "-D", Data, "-l", Path.Combine(_folder, "log"), "-w", "-t", "120", "-o", $"-p {Port} -k {_folder} -c listen_addresses=127.0.0.1 {_options}", "start");

    /// <summary>No more a standby: it takes writes.</summary>
    public Task PromoteAsync() => AsServerAsync("pg_ctl", "-D", Data, "-w", "promote");

    /// <summary>Kills the server and everything of it at once (kill -9).</summary>
    public async Task KillAsync()
    {
        if (!File.Exists(Path.Combine(Data, "postmaster.pid")))
        {
            return;
        }

        using var server = Process.GetProcessById(int.Parse((await File.ReadAllLinesAsync(Path.Combine(Data, "postmaster.pid")))[0], System.Globalization.CultureInfo.InvariantCulture));
        var all = Directory.GetDirectories("/proc").Select(Path.GetFileName).Where(name => int.TryParse(name, out _)).Where(name => StatusOf(name!) is { } status && (name == $"{server.Id}" || status[1] == $"{server.Id}")).ToArray();
        server.Kill(entireProcessTree: true);
        while (all.Any(name => StatusOf(name!) is { } status && status[0] != "Z"))
        {
            await Task.Delay(10);
        }

        // Killed, it leaves its number behind in two places; the next start would take one that nobody has buried yet for a server that runs.
        File.Delete(Path.Combine(Data, "postmaster.pid"));
        File.Delete(Path.Combine(_folder, $".s.PGSQL.{Port}.lock"));
    }

    public async Task RunAsync(string sql, string database = "postgres")
    {
        await using var connection = new NpgsqlConnection(this[database]);
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync();
    }

    /// <summary>Waits until a question is answered with yes, up to a minute.</summary>
    public async Task UntilAsync(string question)
    {
        await using var connection = new NpgsqlConnection(this["postgres"]);
        await connection.OpenAsync();
        for (var watch = Stopwatch.StartNew(); watch.Elapsed < TimeSpan.FromMinutes(1); await Task.Delay(50))
        {
            await using var command = new NpgsqlCommand(question, connection);
            if (await command.ExecuteScalarAsync() is true)
            {
                return;
            }
        }

        throw new InvalidOperationException($"Not within a minute: {question}");
    }

    public async ValueTask DisposeAsync()
    {
        await KillAsync();
        Directory.Delete(_folder, recursive: true);
    }

    /// <summary>State and parent of a process, or null when it is gone.</summary>
    private static string[]? StatusOf(string process)
    {
        try
        {
            return File.ReadAllText($"/proc/{process}/stat").Split(") ")[^1].Split(' ');
        }
        catch (IOException)
        {
            return null;
        }
    }

    private static async Task<string> NewFolderAsync()
    {
        var folder = Directory.CreateTempSubdirectory("drainboard-pg-").FullName;
        if (AsRoot)
        {
            await Programs.RunAsync("chown", "postgres", folder);
        }

        return folder;
    }

    // The server refuses to run as root.
    private Task AsServerAsync(string program, params string[] args) =>
        AsRoot ? Programs.RunAsync("runuser", ["-u", "postgres", "--", Path.Combine(_binaries, program), .. args]) : Programs.RunAsync(Path.Combine(_binaries, program), args);
}
