using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace Drainboard.Testing;

/// <summary>
/// Several web processes on one PostgreSQL behind the balancer of deploy/nginx.conf, as an airline runs it, on free ports of this machine. The
/// database is somebody else's; processes can be killed and started again one by one.
/// </summary>
public sealed class Airline : IAsyncDisposable
{
    private const string Nginx = "/usr/sbin/nginx";

    private readonly string _database;
    private readonly string _program;
    private readonly string _folder = Directory.CreateTempSubdirectory("drainboard-airline-").FullName;
    private readonly int[] _ports;
    private readonly Process?[] _processes;
    private Process? _balancer;

    private Airline(string database, string program, int processes)
    {
        (_database, _program) = (database, program);
        (_ports, _processes) = ([.. Enumerable.Range(0, processes).Select(_ => FreePort())], new Process?[processes]);
        Address = new Uri($"http://127.0.0.1:{FreePort()}");
    }

    /// <summary>Where the balancer listens.</summary>
    public Uri Address { get; }

    /// <param name="root">The repository's root: the balancer's configuration is taken from there.</param>
    /// <param name="program">The program's library.</param>
    /// <returns>The running airline, or null and the reason for a skip.</returns>
    public static async Task<(Airline? Airline, string Reason)> TryStartAsync(string database, string root, string program, int processes = 2)
    {
        if (!File.Exists(Nginx))
        {
            return (null, "No nginx: bash tests/run.sh installs it.");
        }

        var airline = new Airline(database, program, processes);
        await Task.WhenAll(Enumerable.Range(0, processes).Select(airline.StartAsync));
        airline.Balance(await File.ReadAllTextAsync(Path.Combine(root, "deploy", "nginx.conf")));
        await UntilReadyAsync(airline.Address);
        return (airline, "");
    }

    /// <summary>Where one process listens by itself.</summary>
    public Uri AddressOf(int process) => new($"http://127.0.0.1:{_ports[process]}");

    /// <summary>Starts a process that is not running, and waits until it is ready.</summary>
    public async Task StartAsync(int process)
    {
        _processes[process] = Start("dotnet", [_program, "--urls", AddressOf(process).ToString()], process);
        await UntilReadyAsync(AddressOf(process));
    }

    /// <summary>Ends a process without a word, as a crash or a lost machine would.</summary>
    public async Task KillAsync(int process)
    {
        _processes[process]!.Kill(entireProcessTree: true);
        await _processes[process]!.WaitForExitAsync();
    }

    /// <summary>Which process answered each request through the balancer, with the line that the browser was given, in order.</summary>
    public async Task<IReadOnlyList<(string Line, int Process)>> AnsweredAsync() =>
        [.. (await File.ReadAllLinesAsync(Path.Combine(_folder, "access"))).Select(row => row.Split(' ')).Select(cells => (cells[0], Array.FindIndex(_ports, port => cells[^1].EndsWith($":{port}", StringComparison.Ordinal))))];

    public async ValueTask DisposeAsync()
    {
        foreach (var process in _processes.Append(_balancer).OfType<Process>().Where(process => !process.HasExited))
        {
            process.Kill(entireProcessTree: true);
            await process.WaitForExitAsync();
        }

        Directory.Delete(_folder, recursive: true);
    }

    private void Balance(string configuration)
    {
        for (var process = 0; process < _ports.Length; process++)
        {
            configuration = configuration.Replace($"server web-{process + 1}:8080", $"server 127.0.0.1:{_ports[process]}", StringComparison.Ordinal);
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
        _balancer = Start(Nginx, ["-p", _folder, "-e", $"{_folder}/error", "-c", file], null);
    }

    // What a process says goes nowhere: a pipe that nobody reads would fill and stop it.
    private Process Start(string program, string[] args, int? process) => Process.Start(new ProcessStartInfo("/bin/sh", ["-c", "exec \"$0\" \"$@\" > /dev/null 2>&1", program, .. args])
    {
        WorkingDirectory = _folder,
        Environment = { ["DRAINBOARD_DATABASE"] = _database, ["DRAINBOARD_DATA"] = Path.Combine(_folder, $"data-{process}"), ["DRAINBOARD_PROXY"] = "127.0.0.1", ["Serilog__MinimumLevel__Default"] = "Warning" },
    })!;

    private static async Task UntilReadyAsync(Uri address)
    {
        using var client = new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromSeconds(5) };
        for (var tries = 0; tries < 600; tries++)
        {
            try
            {
                using var answer = await client.GetAsync(new Uri("/health/ready", UriKind.Relative));
                if (answer.StatusCode == HttpStatusCode.OK)
                {
                    return;
                }
            }
            catch (Exception failure) when (failure is HttpRequestException or TaskCanceledException)
            {
                // Not listening yet.
            }

            await Task.Delay(100);
        }

        throw new InvalidOperationException($"{address} did not become ready.");
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
