using Drainboard.Domain.Fleet;
using Drainboard.Testing;
using Drainboard.Web.Features.Board;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.PlannedChecks;
using Drainboard.Web.Features.TurnFit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Npgsql;

namespace Drainboard.Benchmarks.Load;

/// <summary>Board, Clocks and Tail of a large airline with 10 thousand, 200 thousand and 2 million closed write-ups, each against hand-written SQL that reads the same rows in the same run.</summary>
internal static class ReadLoad
{
    private const int Runs = 3;
    private const double PerSecond = 6;

    // Until the runtime has compiled it all for good, as in a service that has run for an hour.
    private const int WarmUpRounds = 150;
    private static readonly TimeSpan Length = TimeSpan.FromSeconds(20);
    private static readonly int[] Sets = [10_000, 200_000, 2_000_000];

    public static async Task<int> RunAsync()
    {
        var (host, reason) = await LargeFleet.TryStartAsync();
        if (host is null)
        {
            Console.WriteLine(reason);
            return 1;
        }

        await using var running = host;
        using var raw = new RawResults("reads");
        var first = new Dictionary<string, double>();
        Console.WriteLine("| closed | page | query: median, p99 | hand-written SQL: median, p99 | ratio of medians | growth |");
        foreach (var closed in Sets)
        {
            await LargeFleet.GrowAsync(host, closed);
            await MeasureAsync(host, closed, raw, first);
        }

        return 0;
    }

    private static async Task MeasureAsync(DrainboardHost host, int closed, RawResults raw, Dictionary<string, double> first)
    {
        await using var look = await host.Db.CreateDbContextAsync();
        var stations = await look.Stations.Select(station => station.Code).ToArrayAsync();
        var tails = await look.Tails.OrderBy(tail => tail.Id).Select(tail => tail.Registration).ToArrayAsync();
        var by = new HandWritten(Of<NpgsqlDataSource>(host), LargeFleet.Now);
        var pages = new (string Name, Func<int, Task> Query, Func<int, Task> Hand)[]
        {
            ("Board", number => BoardAsync(host, stations[number % stations.Length]), number => by.BoardAsync(stations[number % stations.Length].Value)),
            ("Tail", number => Of<TailQuery>(host).ReadAsync(tails[number * 7 % tails.Length], CancellationToken.None), number => by.TailAsync(tails[number * 7 % tails.Length].Value)),
            ("Clocks", _ => ClocksAsync(host), _ => by.ClocksAsync()),
        };
        var calls = pages.SelectMany(page => new[] { page.Query, page.Hand }).ToArray();
        for (var round = 0; round < WarmUpRounds; round++)
        {
            foreach (var call in calls)
            {
                await call(round);
            }
        }

        await OpenArrivals.RunAsync(PerSecond, Length, 1, calls);
        var times = calls.Select(_ => new List<double>()).ToArray();
        for (var run = 1; run <= Runs; run++)
        {
            foreach (var (call, measured) in (await OpenArrivals.RunAsync(PerSecond, Length, 100 + run, calls)).Index())
            {
                times[call].AddRange(measured);
                raw.Add($"{closed}", run, $"{pages[call / 2].Name} {(call % 2 == 0 ? "query" : "hand-written")}", measured);
            }
        }

        foreach (var (number, page) in pages.Index())
        {
            var (query, hand) = (times[2 * number], times[2 * number + 1]);
            var (median, plain) = (RawResults.Quantile(query, 0.5), RawResults.Quantile(hand, 0.5));
            Console.WriteLine(FormattableString.Invariant($"| {closed:N0} | {page.Name} | {median:0.0} ms, {RawResults.Quantile(query, 0.99):0.0} ms | {plain:0.0} ms, {RawResults.Quantile(hand, 0.99):0.0} ms | {median / plain:0.00} | {median / (first.TryAdd(page.Name, median) ? median : first[page.Name]):0.00} |"));
        }
    }

    // One of its own each time: what open pages share is not measured here.
    private static Task<BoardView?> BoardAsync(DrainboardHost host, StationCode station) =>
        new BoardQuery(host.Db, Of<LayoutCatalog>(host), Of<FleetJobs>(host), Of<Rounds>(host), Of<IClock>(host)).ReadAsync(station, CancellationToken.None);

    private static Task<ClocksView> ClocksAsync(DrainboardHost host) =>
        new ClocksQuery(host.Db, Of<LayoutCatalog>(host), Of<FleetJobs>(host), Of<IClock>(host)).ReadAsync(CancellationToken.None);

    private static T Of<T>(DrainboardHost host)
        where T : notnull => host.Services.GetRequiredService<T>();
}
