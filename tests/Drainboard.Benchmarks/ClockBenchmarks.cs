using BenchmarkDotNet.Attributes;
using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Running;
using BenchmarkDotNet.Toolchains.InProcess.Emit;
using Drainboard.Domain.Deferrals;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>A category C clock against the least that calendar arithmetic can cost: the same dates with nothing else.</summary>
[MemoryDiagnoser]
public class ClockBenchmarks
{
    private static readonly DateTimeZone NewYork = DateTimeZoneProviders.Tzdb["America/New_York"];
    private static readonly Instant Recorded = Instant.FromUtc(2026, 1, 26, 10, 0);
    private static readonly DeferralPolicy Local = DeferralPolicies.Us with { TimeBase = TimeBase.Local };

    public static int Run()
    {
        // Short and in this process: the ratio is what is asked for, not the last nanosecond.
        BenchmarkRunner.Run<ClockBenchmarks>(DefaultConfig.Instance.AddJob(Job.ShortRun.WithToolchain(InProcessEmitToolchain.Instance)));
        return 0;
    }

    [Benchmark(Baseline = true, Description = "bare NodaTime")]
    public Instant Bare() => NewYork.AtStartOfDay(Recorded.InZone(NewYork).Date.PlusDays(11)).ToInstant();

    [Benchmark(Description = "clock")]
    public Instant Clock() => DeferralClock.Times(Local, Category.C, Recorded, NewYork).DueAt;

    [Benchmark(Description = "clock with its explanation")]
    public Instant? Explained() => DeferralClock.Read(new ClockQuestion(Local, Category.C, Recorded, NewYork)).DueAt;
}
