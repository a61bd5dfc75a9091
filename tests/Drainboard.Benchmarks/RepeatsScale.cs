using System.Diagnostics;
using Drainboard.Benchmarks.Load;
using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Records;
using Drainboard.Testing;
using Drainboard.Web.Features.Reliability;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Benchmarks;

/// <summary>Two million write-ups of a thousand tails on PostgreSQL: every flag, rate and rank anew, the page's first answer, and one new write-up.</summary>
internal static class RepeatsScale
{
    // 200 a tail and year: more than twice what the trade's figures make of the demo.
    private const int WriteUps = 2_000_000;

    public static async Task<int> RunAsync()
    {
        var (host, reason) = await LargeFleet.TryStartAsync();
        if (host is null)
        {
            Console.WriteLine(reason);
            return 1;
        }

        await using var running = host;
        await LargeFleet.GrowAsync(host, WriteUps);
        var maker = host.Services.GetRequiredService<StandingsMaker>();
        for (var round = 1; round <= 3; round++)
        {
            GC.Collect();
            var (started, parts) = (Stopwatch.GetTimestamp(), new List<(string Words, TimeSpan At)>());
            var peak = GC.GetTotalMemory(false);
            var made = await maker.RunAsync(new Direct(words =>
            {
                peak = Math.Max(peak, GC.GetTotalMemory(false));
                if (parts.Count == 0 || !words.StartsWith("Judging", StringComparison.Ordinal))
                {
                    parts.Add((words, Stopwatch.GetElapsedTime(started)));
                }
            }), CancellationToken.None);
            Console.WriteLine($"round {round}: {Stopwatch.GetElapsedTime(started).TotalSeconds:0.0} s, {made!.Tested} tested, {made.Flagged} flagged, heap at most {peak / 1048576} MiB; {string.Join("; ", parts.Select(part => $"{part.Words} from {part.At.TotalSeconds:0.0} s"))}");
        }

        await PageAsync(host);
        await SaveAsync(host);
        return 0;
    }

    private static async Task PageAsync(DrainboardHost host)
    {
        var repeats = host.Services.GetRequiredService<RepeatsQuery>();
        var first = await TimeAsync(1, () => repeats.ReadAsync(new RepeatsFilter(), 50, CancellationToken.None));
        var all = await TimeAsync(20, () => repeats.ReadAsync(new RepeatsFilter(), 50, CancellationToken.None));
        var flagged = await TimeAsync(20, () => repeats.ReadAsync(new RepeatsFilter(Flagged: true, Layout: "N1"), 50, CancellationToken.None));
        Console.WriteLine($"the page's answer: first {first:0} ms, median {all:0} ms; of one layout, who stands out {flagged:0} ms");
    }

    /// <summary>A whole save of one new write-up with its flag, record entry and change row; against a save with the entry and the change row alone.</summary>
    private static async Task SaveAsync(DrainboardHost host)
    {
        await using var look = await host.Db.CreateDbContextAsync();
        var places = await look.Defects.AsNoTracking().OrderByDescending(defect => defect.RecordedAt).Take(400).Select(defect => new { defect.Tail, defect.Position }).ToArrayAsync();
        var (next, bare) = (0, 0);
        var with = await TimeAsync(300, () => SaveAsync(host, places[next % places.Length].Tail, places[next++ % places.Length].Position));
        var without = await TimeAsync(300, () => SaveAsync(host, places[bare++ % places.Length].Tail, null));
        Console.WriteLine($"a new write-up saved with its flag: median {with:0.00} ms; the same record entry without it {without:0.00} ms");
    }

    private static async Task SaveAsync(DrainboardHost host, Domain.Fleet.TailId tail, Domain.Fleet.Position? position)
    {
        await using var db = await host.Db.CreateDbContextAsync();
        if (position is { } at)
        {
            db.Add(new Defect(new DefectId(NewId.At(LargeFleet.Now)), tail, new Sighting(at, Symptom.DrainsSlowly, LeakAnswer.NoneSeen, "", FlightPhase.OnGround, "", LargeFleet.Now, null, null), LargeFleet.Now));
        }

        await db.SaveAsync(new Writing(Actor.Installation, LargeFleet.Now, [new Deed(new Fact(ChainKey.For(tail), "bench", Guid.Empty, "Bench."), Actor.Installation, LargeFleet.Now)]), CancellationToken.None);
    }

    private static async Task<double> TimeAsync(int runs, Func<Task> work)
    {
        var times = new double[runs];
        for (var run = 0; run < runs; run++)
        {
            var started = Stopwatch.GetTimestamp();
            await work();
            times[run] = Stopwatch.GetElapsedTime(started).TotalMilliseconds;
        }

        Array.Sort(times);
        return times[runs / 2];
    }

    private sealed class Direct(Action<string> told) : IProgress<string>
    {
        public void Report(string value) => told(value);
    }
}
