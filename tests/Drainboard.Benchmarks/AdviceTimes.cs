using System.Diagnostics;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Isolation;
using Drainboard.Web.Features.Plumbing;
using Drainboard.Web.Features.Pours;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>Where to look, the picture and the pours of one fixture of the demo, against reading the fixture's own page in the same run.</summary>
internal static class AdviceTimes
{
    private const int Reads = 60;

    public static async Task<int> RunAsync()
    {
        foreach (var kind in Enum.GetValues<DatabaseKind>())
        {
            var (host, reason) = await DrainboardHost.TryStartAsync(kind, Instant.FromUtc(2026, 11, 25, 14, 5), onPort: true, demo: true);
            if (host is null)
            {
                Console.WriteLine($"{kind}: {reason}");
                continue;
            }

            await using var running = host;
            foreach (var (mark, at) in new[] { (Registration.Parse("QQ-MRA"), Position.Parse("K-G4-2")), (Registration.Parse("QQ-MRX"), Position.Parse("K-G5-1")) })
            {
                T Of<T>()
                    where T : notnull => host.Services.GetRequiredService<T>();
                var page = await MedianAsync(async () => await Of<FixtureQuery>().ReadAsync(mark, at, null, CancellationToken.None));
                var advice = await MedianAsync(async () => await Of<AdviceQuery>().ReadAsync(mark, at, new AdviceAsk(), CancellationToken.None));
                var picture = await MedianAsync(async () => await Of<PlumbingQuery>().ReadAsync(mark, Water.Drainage, at, CancellationToken.None));
                var pours = await MedianAsync(async () => await Of<PoursQuery>().ReadAsync(mark, at, CancellationToken.None));
                Console.WriteLine($"{kind}, {mark} {at}: fixture page {page:0.0} ms (baseline); advice {advice:0.0} ms, ratio {advice / page:0.0}; picture {picture:0.0} ms, ratio {picture / page:0.0}; pours with trend {pours:0.0} ms, ratio {pours / page:0.0}.");
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
            _ = await read() ?? throw new InvalidOperationException("The demo has no such fixture.");
            if (round >= 0)
            {
                times[round] = Stopwatch.GetElapsedTime(started).TotalMilliseconds;
            }
        }

        Array.Sort(times);
        return times[Reads / 2];
    }
}
