using Drainboard.Domain.Reliability;
using MathNet.Numerics.Distributions;

namespace Drainboard.Benchmarks;

/// <summary>Fleets with known rogues: who is flagged, who is missed, and whether the intervals hold what they promise. Seeded.</summary>
internal static class RepeatsTrials
{
    private const int Fixtures = 400;
    private const int Rogues = 12;
    private const int Fleets = 400;

    public static int Run()
    {
        Console.WriteLine($"{Fleets} fleets of {Fixtures} fixtures, {Rogues} of them rogue; nominal false discovery 5 %");
        Console.WriteLine("| expected write-ups of a sound fixture | rogue's rate | of the flagged, not rogue | rogues found | rogues among the first twelve: by posterior | by raw rate |");
        Console.WriteLine("|---:|---:|---:|---:|---:|---:|");
        foreach (var mean in new[] { 1.0, 3.0, 10.0 })
        {
            foreach (var times in new[] { 1.0, 2.0, 3.0, 5.0 })
            {
                Fleet(mean, times);
            }
        }

        Coverage();
        return 0;
    }

    private static void Fleet(double mean, double times)
    {
        var dice = new Random(20261126);
        var (discovery, found, posterior, raw) = (0.0, 0, 0, 0);
        for (var fleet = 0; fleet < Fleets; fleet++)
        {
            // Exposures differ as tails do; the sound ones all have one true rate.
            var exposure = Enumerable.Range(0, Fixtures).Select(_ => 200 + (dice.NextDouble() * 1600)).ToArray();
            var counts = exposure.Select((time, index) => new FixtureCount($"{index}", Poisson.Sample(dice, mean * time / 1000 * (index < Rogues ? times : 1)), time)).ToArray();
            var judged = FleetRates.Of(counts).Fixtures;
            var flagged = judged.Index().Where(one => one.Item.IsFlagged).Select(one => one.Index).ToArray();

            // Where the rogue's rate is 1 nobody is rogue, and every flag is false.
            var wrong = flagged.Count(index => index >= Rogues || times <= 1);
            discovery += flagged.Length == 0 ? 0 : (double)wrong / flagged.Length;
            found += flagged.Count(index => index < Rogues);
            posterior += judged.Index().OrderByDescending(one => one.Item.Posterior05).ThenBy(one => one.Item.PWorse).Take(Rogues).Count(one => one.Index < Rogues);
            raw += judged.Index().OrderByDescending(one => one.Item.Rate).Take(Rogues).Count(one => one.Index < Rogues);
        }

        var all = (double)Fleets * Rogues;
        Console.WriteLine(times <= 1
            ? $"| {mean:0} | none | {100 * discovery / Fleets:0.0} % | | | |"
            : $"| {mean:0} | {times:0} times | {100 * discovery / Fleets:0.0} % | {100 * found / all:0} % | {100 * posterior / all:0} % | {100 * raw / all:0} % |");
    }

    private static void Coverage()
    {
        var dice = new Random(20261126);
        foreach (var mean in new[] { 0.5, 3.0, 20.0 })
        {
            var (rate, ratio) = (0, 0);
            const int Runs = 20_000;
            for (var run = 0; run < Runs; run++)
            {
                var (x, y) = (Poisson.Sample(dice, mean), Poisson.Sample(dice, 3 * mean));
                var limits = PoissonRate.Limits(x, 1);
                rate += limits.Low <= mean && mean <= limits.High ? 1 : 0;
                var against = RateRatio.Of(x, 1, y, 3).Limits;
                ratio += against.Low <= 1 && 1 <= against.High ? 1 : 0;
            }

            Console.WriteLine($"mean {mean:0.0}: the 95 % interval of a rate holds the true one in {100.0 * rate / Runs:0.0} %, that of a ratio in {100.0 * ratio / Runs:0.0} % of {Runs}");
        }

        Life(dice);
    }

    private static void Life(Random dice)
    {
        const int Runs = 2000;
        var (held, fitted) = (0, 0);
        for (var run = 0; run < Runs; run++)
        {
            // Wear-out of shape 2 and scale 100, watched for up to 150: a quarter is not blocked by then.
            var ages = Enumerable.Range(0, 40).Select(_ => (Life: 100 * Math.Pow(-Math.Log(1 - dice.NextDouble()), 0.5), End: 40 + (dice.NextDouble() * 110))).Select(one => new Age(Math.Min(one.Life, one.End), one.Life <= one.End)).ToArray();
            if (WeibullFit.Of(ages) is { } fit)
            {
                fitted++;
                held += fit.Shape90.Low <= 2 && 2 <= fit.Shape90.High ? 1 : 0;
            }
        }

        Console.WriteLine($"the 90 % interval of a Weibull shape holds the true one in {100.0 * held / fitted:0.0} % of {fitted}");
    }
}
