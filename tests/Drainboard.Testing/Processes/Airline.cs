using System.Diagnostics;
using Npgsql;

namespace Drainboard.Testing.Processes;

/// <summary>
/// Several web processes on one PostgreSQL behind the balancer of deploy/nginx.conf, as docker-compose.yml runs them, on free ports of this machine: the
/// owner of the tables migrates once, the processes run under a role that owns nothing, and both are told where by a file. The database is somebody
/// else's; processes can be killed and started again one by one.
/// </summary>
public sealed class Airline : IAsyncDisposable
{
    private const string Nginx = "/usr/sbin/nginx";

    private readonly string _folder = Directory.CreateTempSubdirectory("drainboard-airline-").FullName;
    private readonly string _database;
    private readonly string _role;
    private readonly WebProcess[] _processes;
    private Process? _balancer;

    private Airline(string database, int processes)
    {
        Address = new Uri($"http://127.0.0.1:{Ports.Free()}");
        (_database, _role) = (database, $"drainboard_service_{Address.Port}");
        _processes = [.. Enumerable.Range(0, processes).Select(number => new WebProcess(Repository.Program, Path.Combine(_folder, $"{number}"), new Dictionary<string, string> { ["DRAINBOARD_DATABASE_FILE"] = ServiceFile, ["DRAINBOARD_PROXY"] = "127.0.0.1", ["DRAINBOARD_DEMO"] = "off" }))];
    }

    private string OwnerFile => Path.Combine(_folder, "owner");

    private string ServiceFile => Path.Combine(_folder, "service");

    /// <summary>Where the balancer listens.</summary>
    public Uri Address { get; }

    /// <summary>The web processes by number.</summary>
    public IReadOnlyList<WebProcess> Processes => _processes;

    /// <returns>The running airline, or null and the reason for a skip.</returns>
    public static async Task<(Airline? Airline, string Reason)> TryStartAsync(string database, int processes = 2)
    {
        if (!File.Exists(Nginx))
        {
            return (null, "No nginx: bash tests/run.sh installs it.");
        }

        var airline = new Airline(database, processes);
        await airline.MigrateAsync();
        await Task.WhenAll(airline._processes.Select(process => process.StartAsync()));
        airline.Balance(await File.ReadAllTextAsync(Path.Combine(Repository.Root, "deploy", "nginx.conf")));
        await WebProcess.UntilReadyAsync(airline.Address);
        return (airline, "");
    }

    /// <summary>Which process answered each request through the balancer, with the line that the browser was given, in order.</summary>
    public async Task<IReadOnlyList<(string Line, int Process)>> AnsweredAsync() =>
        [.. (await File.ReadAllLinesAsync(Path.Combine(_folder, "access"))).Select(row => row.Split(' ')).Select(cells => (cells[0], Array.FindIndex(_processes, process => cells[^1].EndsWith($":{process.Address.Port}", StringComparison.Ordinal))))];

    public async ValueTask DisposeAsync()
    {
        await Task.WhenAll(_processes.Select(process => process.KillAsync()));
        if (_balancer is { HasExited: false })
        {
            _balancer.Kill(entireProcessTree: true);
            await _balancer.WaitForExitAsync();
        }

        await RunSqlAsync($"DROP OWNED BY {_role}; DROP ROLE {_role}");
        Directory.Delete(_folder, recursive: true);
    }

    private async Task MigrateAsync()
    {
        await RunSqlAsync($"CREATE ROLE {_role} LOGIN PASSWORD 'in the service file'");
        await File.WriteAllTextAsync(OwnerFile, _database);
        await File.WriteAllTextAsync(ServiceFile, new NpgsqlConnectionStringBuilder(_database) { Username = _role, Password = "in the service file" }.ConnectionString);
        var folder = Directory.CreateDirectory(Path.Combine(_folder, "migrate")).FullName;
        await using var once = new WebProcess(Repository.Program, folder, new Dictionary<string, string> { ["DRAINBOARD_DATABASE_FILE"] = OwnerFile });
        if (await once.CommandAsync("migrate", "--for", _role) is not (0, _) and var (_, words))
        {
            throw new InvalidOperationException(words);
        }
    }

    private async Task RunSqlAsync(string sql)
    {
        await using var connection = new NpgsqlConnection(_database);
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync();
    }

    private void Balance(string configuration)
    {
        foreach (var (number, process) in _processes.Index())
        {
            configuration = configuration.Replace($"server web-{number + 1}:8080", $"server 127.0.0.1:{process.Address.Port}", StringComparison.Ordinal);
        }

        var file = Path.Combine(_folder, "nginx.conf");
        File.WriteAllText(file, $$"""
            {{(Environment.UserName == "root" ? "user root;" : "")}}
            daemon off;
            worker_processes 1;
            pid {{_folder}}/pid;
            error_log {{_folder}}/error warn;
            events { worker_connections 512; }
            http {
                log_format who '$line $upstream_addr';
                access_log {{_folder}}/access who;
                client_body_temp_path {{_folder}}/body;
                proxy_temp_path {{_folder}}/proxy;
                fastcgi_temp_path {{_folder}}/fastcgi;
                uwsgi_temp_path {{_folder}}/uwsgi;
                scgi_temp_path {{_folder}}/scgi;
            {{configuration.Replace("listen 8080", $"listen 127.0.0.1:{Address.Port}", StringComparison.Ordinal)}}
            }
            """);
        _balancer = Programs.Start(Nginx, ["-p", _folder, "-e", $"{_folder}/error", "-c", file], _folder, "/dev/null");
    }
}
