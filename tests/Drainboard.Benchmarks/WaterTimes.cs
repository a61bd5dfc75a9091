using System.Diagnostics;
using Drainboard.Domain.Fleet;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Board;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Lavatories;
using Drainboard.Web.Features.PlannedChecks;
using Drainboard.Web.Features.PotableWater;
using Drainboard.Web.Features.Tanks;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>Drinking water, tanks, toilets and planned checks of the demo, against reading the tail's own page in the same run.</summary>
internal static class WaterTimes
{
    private const int Reads = 60;

    public static async Task<int> RunAsync()
    {
        var mark = Registration.Parse("QQ-MRX");
        foreach (var kind in Enum.GetValues<DatabaseKind>())
        {
            var (host, reason) = await DrainboardHost.TryStartAsync(kind, Instant.FromUtc(2026, 11, 25, 14, 5), onPort: true, demo: true);
            if (host is null)
            {
                Console.WriteLine($"{kind}: {reason}");
                continue;
            }

            await using var running = host;
            var stop = CancellationToken.None;
            T Of<T>()
                where T : notnull => host.Services.GetRequiredService<T>();
            var page = await MedianAsync(async () => await Of<TailQuery>().ReadAsync(mark, stop));
            Console.WriteLine($"{kind}: tail page {page:0.0} ms (baseline)");
            foreach (var (name, read) in new (string, Func<Task<object?>>)[]
            {
                ("walk-round", async () => await Of<RoundQuery>().ReadAsync(mark, stop)),
                ("planned checks of the fleet", async () => await Of<ChecksFleetQuery>().ReadAsync(stop)),
                ("tanks", async () => await Of<TanksQuery>().ReadAsync(mark, stop)),
                ("drinking water", async () => await Of<WaterQuery>().ReadAsync(mark, stop)),
                ("drinking water of the fleet", async () => await Of<WaterFleetQuery>().ReadAsync(stop)),
                ("toilets", async () => await Of<ToiletsQuery>().ReadAsync(mark, stop)),
                ("Board of the hub", async () => await Of<BoardQuery>().ReadAsync(StationCode.Parse("QQMB"), stop)),
            })
            {
                var took = await MedianAsync(read);
                Console.WriteLine($"{kind}: {name} {took:0.0} ms, ratio {took / page:0.0}");
            }
        }

        return 0;
    }

    private static async Task<double> MedianAsync(Func<Task<object?>> read)
    {
        var times = new double[Reads];
        for (var round = -20; round < Reads; round++)
        {
            var started = Stopwatch.GetTimestamp();
            _ = await read() ?? throw new InvalidOperationException("The demo has no such tail.");
            if (round >= 0)
            {
                times[round] = Stopwatch.GetElapsedTime(started).TotalMilliseconds;
            }
        }

        Array.Sort(times);
        return times[Reads / 2];
    }
}
