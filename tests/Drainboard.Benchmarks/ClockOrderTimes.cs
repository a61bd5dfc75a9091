using System.Diagnostics;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>100,000 running clocks, each worked out with its last visit that can take it, and sorted; against sorting as many bare instants.</summary>
internal static class ClockOrderTimes
{
    private const int Clocks = 100_000;
    private const int Tails = 400;
    private const int Rounds = 15;

    public static int Run()
    {
        var now = Instant.FromUtc(2026, 11, 25, 14, 5);
        var random = new Random(1);
        var zones = new[] { "Etc/UTC", "America/New_York", "Asia/Tokyo", "Pacific/Auckland" }.Select(id => DateTimeZoneProviders.Tzdb[id]).ToArray();
        var stations = zones.Select((zone, index) => (Zone: zone, Station: new Station(StationCode.Parse($"QQ{(char)('A' + index)}A"), "", zone.Id, index % 2 == 0 ? ["drains", "toilets"] : ["drains"], LocalTime.Midnight, LocalTime.Midnight))).ToArray();
        var plans = Enumerable.Range(0, Tails).Select(_ => new VisitPlan(Enumerable.Range(0, 120).Select(stay =>
        {
            var (zone, station) = stations[random.Next(stations.Length)];
            var arrives = now + Duration.FromHours((6 * stay) + random.Next(3));
            return Visit.Of(new Turn(default, "", default, station.Code, new TurnTimes("", arrives, arrives + Duration.FromMinutes(random.Next(30, 120)), null, null)), station, zone, now, FitTerms.Usual);
        }))).ToArray();
        var clocks = Enumerable.Range(0, Clocks).Select(_ => (Recorded: now - Duration.FromMinutes(random.Next(14_000)), Zone: zones[random.Next(zones.Length)], Category: random.Next(2) == 0 ? Category.C : Category.D, Need: random.Next(2) == 0 ? new WorkNeed(Ability.Drains, CabinPlace.Galley, 17) : new WorkNeed(Ability.Toilets, CabinPlace.Lavatory, 25), Plan: plans[random.Next(Tails)])).ToArray();
        var policy = DeferralPolicies.Us with { TimeBase = TimeBase.Local };
        var bare = Measure(() => clocks.Select(clock => clock.Recorded).Order().ToArray());
        var whole = Measure(() => clocks.Select(clock => ClockOutlook.Of(DeferralClock.Times(policy, clock.Category, clock.Recorded, clock.Zone).DueAt, clock.Need, clock.Plan, now)).Order().ToArray());
        Console.WriteLine($"{Clocks} clocks worked out with their last visit and sorted: median {whole:0.0} ms; {Clocks} bare instants sorted: {bare:0.0} ms; ratio {whole / bare:0.0}");
        return 0;
    }

    private static double Measure<T>(Func<T[]> work)
    {
        var times = new double[Rounds];
        for (var round = -5; round < Rounds; round++)
        {
            var started = Stopwatch.GetTimestamp();
            GC.KeepAlive(work());
            if (round >= 0)
            {
                times[round] = Stopwatch.GetElapsedTime(started).TotalMilliseconds;
            }
        }

        return times.Order().ElementAt(Rounds / 2);
    }
}
