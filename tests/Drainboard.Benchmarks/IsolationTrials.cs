using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>
/// Simulated truth on every layout of the demo: one segment is blocked, a fixture above it is slow, up to two more pours are made while one is
/// worth its minutes, then segments are opened in the advised order; a mast also once as crews tell of ice, slow aloft only. Against opening the first fixture's strainer first and working down, and against
/// somebody who knows.
/// </summary>
internal static class IsolationTrials
{
    private const int TrialsEach = 200;
    private const int MostPours = 3;
    private const double PourMinutes = 2;

    public static async Task<int> RunAsync()
    {
        var (host, reason) = await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite, Instant.FromUtc(2026, 11, 25, 14, 5), demo: true);
        if (host is null)
        {
            Console.Error.WriteLine(reason);
            return 1;
        }

        await using var running = host;
        await using var db = await host.Db.CreateDbContextAsync();
        Console.WriteLine("layout, blocked, trials, right at first opening, minutes advised, minutes strainer first, minutes of one who knows");
        foreach (var layout in (await db.Layouts.AsNoTracking().ToArrayAsync()).OrderBy(layout => layout.Code, StringComparer.Ordinal))
        {
            foreach (var kind in new[] { FixtureKind.Strainer, FixtureKind.DrainLine, FixtureKind.DrainMast })
            {
                Report(layout, kind, Circumstances.None);
            }

            Report(layout, FixtureKind.DrainMast, new Circumstances(AloftOnly: true, OutsideCelsius: -5));
        }

        return 0;
    }

    /// <summary>A cabin larger than any, against adding up all states of one small enough for that.</summary>
    public static int Speed()
    {
        var random = new Random(3);
        var large = Tree(200, 60, random);
        var small = Tree(18, 10, random);
        var passed = Median(() => DrainInference.Infer(large.Tree, PourModel.Default, large.Evidence));
        var passedSmall = Median(() => DrainInference.Infer(small.Tree, PourModel.Default, small.Evidence));
        var added = Median(() => AddUp(small.Tree, small.Evidence));
        Console.WriteLine($"200 segments, 60 fixtures, 30 poured, by messages: median {passed:0.00} ms. 18 segments by messages {passedSmall:0.00} ms, by adding up all 2^18 states {added:0.0} ms; ratio {passedSmall / added:0.0000}");
        return 0;
    }

    private static (DrainTree Tree, Dictionary<string, PourResult> Evidence) Tree(int segments, int fixtures, Random random)
    {
        // As deep as a cabin's: strainer, trap, branch, riser, collector, valve, mast.
        var depth = new int[segments];
        var parents = new int[segments];
        for (var at = 0; at < segments; at++)
        {
            do
            {
                parents[at] = at == 0 ? -1 : random.Next(at);
            }
            while (at > 0 && depth[parents[at]] >= 7);
            depth[at] = at == 0 ? 1 : depth[parents[at]] + 1;
        }

        string[] Path(int at) => at < 0 ? [] : [$"S{at}", .. Path(parents[at])];
        var outlets = Enumerable.Range(0, fixtures).Select(at => new DrainOutlet($"F{at}", Path(random.Next(segments / 2, segments)))).ToArray();
        var tree = DrainTree.Build([.. parents.Select((_, at) => new DrainSegment($"S{at}", 0.03))], outlets).Tree!;
        return (tree, outlets.Take(fixtures / 2).ToDictionary(outlet => outlet.Id, _ => random.Next(2) == 0 ? PourResult.Slow : PourResult.Ok));
    }

    private static double AddUp(DrainTree tree, Dictionary<string, PourResult> evidence)
    {
        var ids = tree.Segments.Select(segment => segment.Id).ToArray();
        var masks = tree.Outlets.Where(outlet => evidence.ContainsKey(outlet.Id)).Select(outlet => (Mask: outlet.Path.Sum(id => 1 << Array.IndexOf(ids, id)), Result: evidence[outlet.Id])).ToArray();
        var sum = 0.0;
        for (var state = 0; state < 1 << ids.Length; state++)
        {
            var weight = Math.Pow(0.03, System.Numerics.BitOperations.PopCount((uint)state)) * Math.Pow(0.97, ids.Length - System.Numerics.BitOperations.PopCount((uint)state));
            foreach (var (mask, result) in masks)
            {
                weight *= PourModel.Default.Likelihood(result, System.Numerics.BitOperations.PopCount((uint)(state & mask)));
            }

            sum += weight;
        }

        return sum;
    }

    private static double Median<T>(Func<T> work)
    {
        var times = new double[15];
        for (var round = -5; round < times.Length; round++)
        {
            var started = System.Diagnostics.Stopwatch.GetTimestamp();
            GC.KeepAlive(work());
            if (round >= 0)
            {
                times[round] = System.Diagnostics.Stopwatch.GetElapsedTime(started).TotalMilliseconds;
            }
        }

        return times.Order().ElementAt(times.Length / 2);
    }

    private static void Report(CabinLayout layout, FixtureKind kind, Circumstances circumstances)
    {
        var tree = CabinDrains.TreeOf(layout, segment => BlockagePriors.Of(segment.Kind))!;
        var blocked = tree.Segments.Where(segment => layout.Find(Position.Parse(segment.Id))!.Kind == kind).ToArray();
        if (blocked.Length == 0)
        {
            return;
        }

        var random = new Random(7);
        var (trials, right, advised, strainerFirst, knowing) = (0, 0, 0.0, 0.0, 0.0);
        foreach (var truth in blocked)
        {
            var above = tree.Outlets.Where(outlet => outlet.Path.Contains(truth.Id)).ToArray();
            for (var trial = 0; trial < TrialsEach; trial++)
            {
                var first = above[random.Next(above.Length)];
                var path = CabinDrains.PathOf(layout, Position.Parse(first.Id));
                var told = circumstances == Circumstances.None ? tree : CabinDrains.TreeOf(layout, segment => DrainAdvice.PriorOf(segment, SegmentHistory.None, circumstances.Ratio(segment, path, [], AdviceTerms.Usual), AdviceTerms.Usual))!;
                var (order, pours) = Advise(layout, told, truth.Id, first, circumstances.AloftOnly ? 1 : MostPours, random);
                trials++;
                right += order[0] == truth.Id ? 1 : 0;
                advised += (pours * PourMinutes) + Until(layout, order, truth.Id);
                strainerFirst += PourMinutes + Until(layout, first.Path, truth.Id);
                knowing += MinutesOf(layout, truth.Id);
            }
        }

        Console.WriteLine($"{layout.Code}, {kind}{(circumstances.AloftOnly ? " (said: slow aloft only, freezing)" : "")}, {trials}, {100.0 * right / trials:0} %, {advised / trials:0.0}, {strainerFirst / trials:0.0}, {knowing / trials:0.0}");
    }

    private static (IReadOnlyList<string> Order, int Pours) Advise(CabinLayout layout, DrainTree tree, string truth, DrainOutlet first, int most, Random random)
    {
        var evidence = new Dictionary<string, PourResult> { [first.Id] = PourResult.Slow };
        var minutes = tree.Segments.ToDictionary(segment => segment.Id, segment => MinutesOf(layout, segment.Id));
        while (evidence.Count < most && PourAdvice.Best(tree, PourModel.Default, evidence, minutes, null, PourMinutes) is { } worth)
        {
            var next = tree.Outlets.Single(outlet => outlet.Id == worth.Outlet);
            evidence[next.Id] = random.NextDouble() < PourModel.Default.Slow(next.Path.Contains(truth) ? 1 : 0) ? PourResult.Slow : PourResult.Ok;
        }

        var posterior = DrainInference.Infer(tree, PourModel.Default, evidence)!;
        var plan = OpenOrder.Plan([.. tree.Segments.Select(segment => new OpenAction(segment.Id, posterior.SingleFault[segment.Id], MinutesOf(layout, segment.Id)))], null);
        return (plan.Order, evidence.Count);
    }

    private static double Until(CabinLayout layout, IEnumerable<string> order, string truth)
    {
        var minutes = 0.0;
        foreach (var segment in order)
        {
            minutes += MinutesOf(layout, segment);
            if (segment == truth)
            {
                break;
            }
        }

        return minutes;
    }

    private static double MinutesOf(CabinLayout layout, string segment) => BlockagePriors.Minutes(layout.Find(Position.Parse(segment))!.Kind);
}
