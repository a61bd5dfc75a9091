using System.Globalization;
using Drainboard.Testing.Processes;

namespace Drainboard.Testing.Faults;

/// <summary>Every stage by its name on the command line.</summary>
public static class Stages
{
    public static IReadOnlyDictionary<string, Func<Stage>> All { get; } = new Dictionary<string, Func<Stage>>
    {
        ["embedded-killed"] = () => new EmbeddedKilled(),
        ["web-killed"] = () => new WebKilled(),
        ["postgres-killed"] = () => new PostgresKilled(),
        ["client-line"] = () => new ClientLineBad(),
        ["database-line"] = () => new DatabaseLineBad(),
        ["disk-full"] = () => new DiskFull(),
        ["clock-stepped"] = () => new ClockStepped(),
        ["failover"] = () => new Failover(),
    };
}

/// <summary>kill -9 of the one web process on the embedded database, which dies with it.</summary>
internal sealed class EmbeddedKilled : Stage
{
    public override string Name => "the process on the embedded database killed";

    public override async Task StrikeAsync(Random dice)
    {
        await Web[0].KillAsync();
        await Task.Delay(dice.Next(300));
        await Web[0].StartAsync();
    }
}

/// <summary>kill -9 of one of two web processes on PostgreSQL.</summary>
internal sealed class WebKilled : Stage
{
    public override string Name => "one of two web processes killed";

    protected override bool OnPostgres => true;

    public override async Task StrikeAsync(Random dice)
    {
        var process = Web[dice.Next(Web.Count)];
        await process.KillAsync();
        await Task.Delay(dice.Next(300));
        await process.StartAsync();
    }
}

/// <summary>kill -9 of PostgreSQL, all of it.</summary>
internal sealed class PostgresKilled : Stage
{
    public override string Name => "PostgreSQL killed";

    protected override bool OnPostgres => true;

    public override async Task StrikeAsync(Random dice)
    {
        await Cluster!.KillAsync();
        await Task.Delay(dice.Next(300));
        await Cluster.StartAsync();
        await Task.WhenAll(Web.Select(process => WebProcess.UntilReadyAsync(process.Address)));
    }
}

/// <summary>What the line between clients and the service does to them: it ends in the middle of an answer, is away for a while, hangs, or is slow.</summary>
internal sealed class ClientLineBad : Stage
{
    private Line? _line;

    public override string Name => "the line between clients and the service cut, hanging, slow";

    public override async Task StartAsync()
    {
        await base.StartAsync();
        _line = new Line(Web[0].Address.Port);
    }

    public override Uri AddressFor(int client) => new($"http://127.0.0.1:{_line!.Port}");

    public override Task StrikeAsync(Random dice) => Lines.StrikeAsync(_line!, dice);

    public override async ValueTask DisposeAsync()
    {
        await (_line?.DisposeAsync() ?? ValueTask.CompletedTask);
        await base.DisposeAsync();
    }
}

/// <summary>The same between two web processes and PostgreSQL.</summary>
internal sealed class DatabaseLineBad : Stage
{
    private Line? _line;

    public override string Name => "the line between the web processes and PostgreSQL cut, hanging, slow";

    protected override bool OnPostgres => true;

    protected override Dictionary<string, string> Settings()
    {
        _line ??= new Line(Cluster!.Port);
        return new() { ["DRAINBOARD_DATABASE"] = $"Host=127.0.0.1;Port={_line.Port};Username=drainboard;Database=airline;Timeout=5;Command Timeout=10" };
    }

    public override Task StrikeAsync(Random dice) => Lines.StrikeAsync(_line!, dice);

    public override async ValueTask DisposeAsync()
    {
        await (_line?.DisposeAsync() ?? ValueTask.CompletedTask);
        await base.DisposeAsync();
    }
}

internal static class Lines
{
    public static async Task StrikeAsync(Line line, Random dice)
    {
        switch (dice.Next(4))
        {
            case 0:
                line.Cut();
                break;
            case 1:
                line.IsDown = true;
                line.Cut();
                await Task.Delay(dice.Next(200, 1500));
                break;
            case 2:
                line.Hangs = true;
                await Task.Delay(dice.Next(200, 3000));
                line.Cut();
                break;
            default:
                line.Delay = TimeSpan.FromMilliseconds(dice.Next(20, 300));
                await Task.Delay(dice.Next(500, 2000));
                break;
        }

        (line.IsDown, line.Hangs, line.Delay) = (false, false, TimeSpan.Zero);
    }
}

/// <summary>The disk under the embedded database runs full, and somebody makes room again. It needs the right to mount.</summary>
internal sealed class DiskFull : Stage
{
    private string Disk => Path.Combine(Folder, "disk");

    public override string Name => "the disk under the embedded database full";

    protected override string DataFolder => Disk;

    public override async Task PrepareAsync()
    {
        Directory.CreateDirectory(Disk);
        await Programs.RunAsync("mount", "-t", "tmpfs", "-o", "size=48m", "tmpfs", Disk);
        await base.PrepareAsync();
    }

    public override async Task StrikeAsync(Random dice)
    {
        var filler = Path.Combine(Disk, "filler");
        try
        {
            await using var file = new FileStream(filler, FileMode.Create);
            var bytes = new byte[64 * 1024];
            while (true)
            {
                await file.WriteAsync(bytes);
                await file.FlushAsync();
            }
        }
        catch (IOException)
        {
            // Full.
        }

        await Task.Delay(dice.Next(300, 1500));
        File.Delete(filler);
    }

    public override async ValueTask DisposeAsync()
    {
        await Task.WhenAll(Web.Select(process => process.KillAsync()));
        await Programs.RunAsync("umount", "-l", Disk);
        await base.DisposeAsync();
    }
}

/// <summary>The machine's clock steps by up to a day, back and forth; time zones change their offsets on the way. It needs the library of faketime.</summary>
internal sealed class ClockStepped : Stage
{
    private static readonly string Library = Directory.GetDirectories("/usr/lib").Select(folder => Path.Combine(folder, "faketime", "libfaketime.so.1")).FirstOrDefault(System.IO.File.Exists) ?? throw new InvalidOperationException("No faketime: bash tests/run.sh installs it.");

    private string File => Path.Combine(Folder, "clock");

    public override string Name => "the clock stepped by up to a day, and by an hour";

    protected override Dictionary<string, string> Settings() =>
        new() { ["DRAINBOARD_DATABASE"] = Database, ["LD_PRELOAD"] = Library, ["FAKETIME_TIMESTAMP_FILE"] = File, ["FAKETIME_NO_CACHE"] = "1", ["DONT_FAKE_MONOTONIC"] = "1", ["FAKETIME_DONT_FAKE_MONOTONIC"] = "1" };

    public override async Task StartAsync()
    {
        Set(0);
        await base.StartAsync();
    }

    public override async Task StrikeAsync(Random dice)
    {
        var seconds = dice.Next(3) switch { 0 => 3600, 1 => -3600, _ => dice.Next(-86400, 86400) };
        Set(seconds);
        await Task.Delay(dice.Next(200, 600));
        await HasMovedAsync(seconds);
    }

    // A fault that does nothing would look like one that harms nothing. The service says its time with every answer, to the second.
    private async Task HasMovedAsync(int seconds)
    {
        using var client = new HttpClient { Timeout = TimeSpan.FromSeconds(20) };
        for (var tries = 0; tries < 50; tries++)
        {
            using var answer = await client.GetAsync(new Uri(Web[0].Address, "/health/live"));
            if (answer.Headers.Date is { } told && Math.Abs((told - TimeProvider.System.GetUtcNow()).TotalSeconds - seconds) < 10)
            {
                return;
            }

            await Task.Delay(100);
        }

        throw new InvalidOperationException($"The service's clock did not move by {seconds} s.");
    }

    private void Set(int seconds) => System.IO.File.WriteAllText(File, string.Create(CultureInfo.InvariantCulture, $"{seconds:+0;-0}s\n"));
}

/// <summary>PostgreSQL with a synchronous standby: the primary dies, the standby is promoted, and a new standby is made of it.</summary>
internal sealed class Failover : Stage
{
    private PostgresCluster? _standby;
    private Line? _line;

    public override string Name => "the primary killed, its synchronous standby promoted";

    protected override bool OnPostgres => true;

    // The service goes to one address, as to a name that is led to the new primary.
    protected override Dictionary<string, string> Settings()
    {
        _line ??= new Line(Cluster!.Port);
        return new() { ["DRAINBOARD_DATABASE"] = $"Host=127.0.0.1;Port={_line.Port};Username=drainboard;Database=airline;Timeout=5" };
    }

    public override async Task StartAsync()
    {
        await AddStandbyAsync();
        await base.StartAsync();
    }

    public override async Task StrikeAsync(Random dice)
    {
        await Cluster!.KillAsync();
        _line!.Cut();
        await Task.Delay(dice.Next(300));
        await _standby!.PromoteAsync();
        await ReplaceAsync(_standby);
        _line.To = Cluster!.Port;
        await Task.WhenAll(Web.Select(process => WebProcess.UntilReadyAsync(process.Address)));
        await AddStandbyAsync();
    }

    public override async ValueTask DisposeAsync()
    {
        await (_standby?.DisposeAsync() ?? ValueTask.CompletedTask);
        await (_line?.DisposeAsync() ?? ValueTask.CompletedTask);
        await base.DisposeAsync();
    }

    // While it has none it waits for none: who promotes decides when the new one counts.
    private async Task AddStandbyAsync()
    {
        await Cluster!.RunAsync("ALTER SYSTEM SET synchronous_standby_names = ''");
        await Cluster.RunAsync("SELECT pg_reload_conf()");
        _standby = await Cluster.StandbyAsync("standby");
        await Cluster.RunAsync("ALTER SYSTEM SET synchronous_standby_names = 'standby'");
        await Cluster.RunAsync("SELECT pg_reload_conf()");
        await Cluster.UntilAsync("SELECT EXISTS (SELECT FROM pg_stat_replication WHERE application_name = 'standby' AND sync_state = 'sync')");
    }
}
