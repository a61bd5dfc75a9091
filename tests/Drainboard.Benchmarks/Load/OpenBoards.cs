using System.Diagnostics;
using System.Globalization;
using Drainboard.Testing;
using Drainboard.Testing.Processes;
using Drainboard.Web.Features.Board;
using Drainboard.Domain.Fleet;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Benchmarks.Load;

/// <summary>
/// 300 open Boards of one station in this process, and a second process on the same PostgreSQL in which the changes are made: how long from the commit,
/// by the database's own time of it, until each Board has been sent what it shows; what an open Board takes of the heap, and a change of the processor.
/// The pages are held by a program of their own, a few of them by a real browser.
/// </summary>
internal static class OpenBoards
{
    public const int Boards = 300;
    private const string Who = "lead.greta";

    public static async Task<int> RunAsync()
    {
        var folder = Directory.CreateTempSubdirectory("drainboard-boards-").FullName;
        await using var cluster = await PostgresCluster.StartAsync($"{PostgresCluster.Durable} -c track_commit_timestamp=on");
        await cluster.RunAsync("CREATE DATABASE airline");
        await using var host = await DrainboardHost.OnAsync(cluster["airline"], SystemClock.Instance.GetCurrentInstant(), onPort: true, demo: true);
        await using var other = new WebProcess(Repository.Program, Path.Combine(folder, "other"), new Dictionary<string, string> { ["DRAINBOARD_DATABASE"] = cluster["airline"] });
        await other.StartAsync();

        var pages = new ProcessStartInfo("dotnet", [Environment.ProcessPath is { } own && !own.EndsWith("dotnet", StringComparison.Ordinal) ? Path.ChangeExtension(own, ".dll") : typeof(OpenBoards).Assembly.Location, "load", "boards-pages", host.Address.ToString(), other.Address.ToString(), await host.SecretForAsync(Who), cluster["airline"], await PlacesAsync(host)])
        {
            RedirectStandardInput = true, RedirectStandardOutput = true,
        };
        using var process = Process.Start(pages)!;
        await UntilAsync(process, "first");
        var before = Heap();
        await process.StandardInput.WriteLineAsync("open");
        await UntilAsync(process, "open");
        var each = (Heap() - before) / 1024.0 / (Boards - 1);
        Console.WriteLine(FormattableString.Invariant($"{Boards} open Boards: {each:0} KiB of managed heap each, whole process {Environment.WorkingSet / 1048576} MiB"));

        var spent = Process.GetCurrentProcess().TotalProcessorTime;
        await process.StandardInput.WriteLineAsync("change");
        var changes = int.Parse(await UntilAsync(process, "done"), CultureInfo.InvariantCulture);
        var took = (Process.GetCurrentProcess().TotalProcessorTime - spent).TotalMilliseconds / changes;
        Console.WriteLine(FormattableString.Invariant($"processor of the process with the {Boards} Boards: {took:0} ms for each change, {took / Boards:0.00} ms for each Board"));
        await process.WaitForExitAsync();
        Directory.Delete(folder, recursive: true);
        return 0;
    }

    /// <summary>Fixtures of tails that stand on the Board.</summary>
    private static async Task<string> PlacesAsync(DrainboardHost host)
    {
        var board = await host.Services.GetRequiredService<BoardQuery>().ReadAsync(StationCode.Parse("QQMB"), CancellationToken.None);
        await using var db = await host.Db.CreateDbContextAsync();
        var layouts = await db.Layouts.AsNoTracking().ToArrayAsync();
        return string.Join(',', board!.Cards.Select(card => $"{card.Tail}:{layouts.First(layout => layout.Code == card.Layout).Fixtures.First(fixture => fixture.Kind == FixtureKind.GalleySink).Position.Value}"));
    }

    /// <returns>What was said after the word that was waited for.</returns>
    private static async Task<string> UntilAsync(Process process, string word)
    {
        while (await process.StandardOutput.ReadLineAsync() is { } line)
        {
            if (line.StartsWith(word, StringComparison.Ordinal))
            {
                return line[word.Length..].Trim();
            }

            Console.WriteLine(line);
        }

        throw new InvalidOperationException("The pages' program has ended.");
    }

    private static long Heap()
    {
        for (var round = 0; round < 3; round++)
        {
            GC.Collect(2, GCCollectionMode.Aggressive, blocking: true, compacting: true);
            GC.WaitForPendingFinalizers();
        }

        return GC.GetTotalMemory(forceFullCollection: true);
    }
}
