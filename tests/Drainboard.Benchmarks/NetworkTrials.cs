using System.Diagnostics;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Network;
using Drainboard.Planning;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Network;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>2,000 carried items over a network: how many are late against the plan without a solver, how near to the fewest, and how long the gathering takes.</summary>
internal static class NetworkTrials
{
    private const int Many = 2000;
    private const int Days = 7;
    private const int Tails = 250;
    private const int Stations = 20;
    private static readonly double[] Limits = [2, 10];

    public static async Task<int> RunAsync()
    {
        foreach (var load in new[] { 4.0, 1.6, 1.0 })
        {
            var rows = Enumerable.Range(1, 5).Select(seed => (Problem: Problem(seed, load), Seed: seed)).Select(one => (one.Problem, Simple: FirstRoom.Plan(one.Problem), Plans: Limits.Select(limit => Timed(one.Problem, limit)).ToArray())).ToArray();
            Console.WriteLine($"Stations have {load:0.0} of the minutes that all items need: the plan without a solver leaves {Middle(rows.Select(row => (double)row.Simple.Late.Count)):0} late ({Middle(rows.Select(row => Stopwatched(row.Problem))):0.0} ms).");
            for (var limit = 0; limit < Limits.Length; limit++)
            {
                var plans = rows.Select(row => row.Plans[limit]).ToArray();
                Console.WriteLine($"  {Limits[limit]:0} s allowed: {Middle(plans.Select(one => (double)one.Plan.Late.Count)):0} late, none fewer than {Middle(plans.Select(one => (double)one.Plan.FewestLate)):0}; proven fewest {plans.Count(one => one.Plan.IsFewest)} of {plans.Length}, proven best {plans.Count(one => one.Plan.Proven)}; points within {Middle(plans.Select(one => 100.0 * (one.Plan.MostPoints - one.Plan.Points) / Math.Max(1, one.Plan.MostPoints))):0.00} % of the most; took {Middle(plans.Select(one => one.Seconds)):0.0} s.");
            }
        }

        foreach (var kind in Enum.GetValues<DatabaseKind>())
        {
            var (host, reason) = await DrainboardHost.TryStartAsync(kind, Instant.FromUtc(2026, 11, 25, 14, 5), demo: true);
            if (host is null)
            {
                Console.WriteLine($"{kind}: {reason}");
                continue;
            }

            await using var running = host;
            await ClocksPageTimes.FillAsync(host, Many, Category.C);
            var query = host.Services.GetRequiredService<NetworkQuery>();
            var sql = await ClocksPageTimes.MedianAsync(() => ClocksPageTimes.HandWrittenAsync(host));
            var whole = await ClocksPageTimes.MedianAsync(async () =>
            {
                // The reading that pages share has grown old.
                host.Clock.AdvanceSeconds(11);
                return (await query.DraftAsync(new NetworkWish(14), CancellationToken.None)).Draft!.Lines.Count;
            });
            Console.WriteLine($"{kind}: {Many} carried items gathered with every stay of 14 days and its chance: median {whole:0} ms; the rows alone by hand-written SQL {sql:0} ms; ratio {whole / sql:0.0}.");
        }

        return 0;
    }

    private static (NetworkPlan Plan, double Seconds) Timed(NetworkProblem problem, double seconds)
    {
        var started = Stopwatch.GetTimestamp();
        return (NetworkPlanner.Solve(problem, seconds, null, CancellationToken.None), Stopwatch.GetElapsedTime(started).TotalSeconds);
    }

    private static double Stopwatched(NetworkProblem problem)
    {
        var started = Stopwatch.GetTimestamp();
        FirstRoom.Plan(problem);
        return Stopwatch.GetElapsedTime(started).TotalMilliseconds;
    }

    /// <param name="load">What all stations have over the days, as a part of what all items need.</param>
    private static NetworkProblem Problem(int seed, double load)
    {
        var random = new Random(seed);
        var lines = Enumerable.Range(0, Tails).Select(tail => Enumerable.Range(0, Days * 4).Select(stay => (Station: random.Next(Stations), Day: stay / 4, Minutes: random.NextDouble() < 0.25 ? random.Next(180, 420) : random.Next(15, 60), Name: $"T{tail} {stay}")).ToArray()).ToArray();
        var able = Enumerable.Range(0, Stations).Select(_ => random.NextDouble() < 0.7).ToArray();
        var items = new List<NetworkItem>();
        for (var item = 0; item < Many; item++)
        {
            var (minutes, line, last, common) = (random.Next(25, 90), lines[random.Next(Tails)], random.Next(1, Days * 4), random.NextDouble() < 0.6);
            items.Add(new NetworkItem($"I{item}", [.. line.Take(last).Where(stay => stay.Minutes >= minutes && (common || able[stay.Station])).Select(stay => new NetworkOption(stay.Name, minutes, Math.Min(0.99, 0.7 + ((stay.Minutes - minutes) / 200.0)), stay.Day, [$"D{stay.Station} {stay.Day}", stay.Name]))]));
        }

        var share = load * items.Where(item => item.Options.Count > 0).Sum(item => item.Options[0].Minutes) / (Stations * Days);
        return new NetworkProblem(items, lines.SelectMany(line => line).Select(stay => (stay.Name, stay.Minutes)).Concat(from station in Enumerable.Range(0, Stations) from day in Enumerable.Range(0, Days) select ($"D{station} {day}", (int)(share * (0.5 + random.NextDouble())))).ToDictionary(one => one.Item1, one => one.Item2));
    }

    private static double Middle(IEnumerable<double> values) => values.Order().ToArray() is { Length: > 0 } sorted ? sorted[sorted.Length / 2] : 0;
}
