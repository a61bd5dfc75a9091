using System.Diagnostics;
using System.Net;

namespace Drainboard.Testing.Processes;

/// <summary>The web program as a process of its own on a free port, which can be killed and started again at the same address.</summary>
public sealed class WebProcess : IAsyncDisposable
{
    private readonly string _program;
    private readonly Dictionary<string, string> _settings;
    private Process? _process;

    /// <param name="program">The program's library.</param>
    /// <param name="folder">Its data folder and working folder.</param>
    /// <param name="settings">Environment variables; every setting that is not named is unset.</param>
    public WebProcess(string program, string folder, IReadOnlyDictionary<string, string>? settings = null)
    {
        (_program, Folder) = (program, folder);
        _settings = new Dictionary<string, string> { ["DRAINBOARD_DATABASE"] = "", ["DRAINBOARD_DATABASE_FILE"] = "", ["DRAINBOARD_DEMO"] = "", ["DRAINBOARD_DATA"] = folder, ["Serilog__MinimumLevel__Default"] = "Warning" };
        foreach (var (name, value) in settings ?? new Dictionary<string, string>())
        {
            _settings[name] = value;
        }
    }

    public string Folder { get; }

    public Uri Address { get; } = new($"http://127.0.0.1:{Ports.Free()}");

    public bool IsRunning => _process is { HasExited: false };

    /// <summary>How much memory it holds now, in bytes.</summary>
    public long Memory
    {
        get
        {
            _process!.Refresh();
            return _process.WorkingSet64;
        }
    }

    /// <summary>How much of a processor it has used since it started.</summary>
    public TimeSpan Processor
    {
        get
        {
            _process!.Refresh();
            return _process.TotalProcessorTime;
        }
    }

    /// <summary>What it said on its way, in a file: a pipe that nobody reads would fill and stop it.</summary>
    public string Log => Path.Combine(Folder, "log");

    /// <summary>Starts it, and waits until it is ready.</summary>
    public async Task StartAsync()
    {
        Launch();
        await UntilReadyAsync(Address);
    }

    /// <summary>Starts it without waiting.</summary>
    public void Launch()
    {
        Directory.CreateDirectory(Folder);
        _process = Programs.Start("dotnet", [_program, "--urls", Address.ToString()], Folder, Log, _settings);
    }

    /// <summary>Ends it without a word, as a crash or a lost machine would.</summary>
    public async Task KillAsync()
    {
        if (IsRunning)
        {
            _process!.Kill(entireProcessTree: true);
            await _process.WaitForExitAsync();
        }
    }

    /// <summary>Asks it to end, as a service manager does, and waits until it has.</summary>
    /// <returns>The exit code.</returns>
    public async Task<int> StopAsync()
    {
        await Programs.RunAsync("kill", "-TERM", $"{_process!.Id}");
        await _process.WaitForExitAsync();
        return _process.ExitCode;
    }

    /// <summary>One of the program's commands on the same data.</summary>
    /// <returns>The exit code, and what it said.</returns>
    public async Task<(int Code, string Words)> CommandAsync(params string[] command)
    {
        var log = Path.Combine(Folder, $"log-{command[0]}");
        using var process = Programs.Start("dotnet", [_program, .. command], Folder, log, _settings);
        await process.WaitForExitAsync();
        return (process.ExitCode, await File.ReadAllTextAsync(log));
    }

    public ValueTask DisposeAsync() => new(KillAsync());

    /// <exception cref="InvalidOperationException">It did not become ready within two minutes.</exception>
    public static async Task UntilReadyAsync(Uri address)
    {
        using var client = new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromSeconds(5) };
        for (var watch = Stopwatch.StartNew(); watch.Elapsed < TimeSpan.FromMinutes(2);)
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

            await Task.Delay(50);
        }

        throw new InvalidOperationException($"{address} did not become ready.");
    }
}
