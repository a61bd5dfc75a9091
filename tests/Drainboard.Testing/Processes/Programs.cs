using System.Diagnostics;

namespace Drainboard.Testing.Processes;

/// <summary>Starts programs of this machine. What they inherit is never a pipe of ours: a server would keep it open, and a full one would stop it.</summary>
public static class Programs
{
    public static Process Start(string program, string[] args, string folder, string log, IReadOnlyDictionary<string, string>? settings = null)
    {
        var start = new ProcessStartInfo("/bin/sh", ["-c", "exec \"$0\" \"$@\" >> \"$SAID_TO\" 2>&1", program, .. args]) { WorkingDirectory = folder, Environment = { ["SAID_TO"] = log } };
        foreach (var (name, value) in settings ?? new Dictionary<string, string>())
        {
            start.Environment[name] = value;
        }

        return Process.Start(start)!;
    }

    /// <exception cref="InvalidOperationException">It ended with something else than zero.</exception>
    public static async Task RunAsync(string program, params string[] args)
    {
        using var process = Start(program, args, "/", "/dev/null");
        await process.WaitForExitAsync();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{program} {string.Join(' ', args)} ended with {process.ExitCode}.");
        }
    }
}
