using System.Text.Json;
using Drainboard.Domain.Tests.Vectors;
using Drainboard.Domain.TurnFit;

namespace Drainboard.Domain.Tests.TurnFit;

public sealed class WorkTimeTests
{
    private const double Promised = 0.0005;
    private static readonly JsonElement File = Vector.Read("13_turnaround_pert");

    /// <summary>B. W. Taylor III, Introduction to Management Science, ch. 8: the critical path 1-3-5-7. The published 0.9633 is the classic normal value; the exact convolution of the same beta times says 0.9386 (recomputed on a grid and by 4,000,000 draws).</summary>
    [Fact]
    public void ChanceWithin_TaylorsCriticalPath_IsTheExactConvolution()
    {
        var work = WorkTime.Of([new TaskTime.ThreePoint(5, 8, 17), new TaskTime.ThreePoint(3, 5, 7), new TaskTime.ThreePoint(4, 6, 8), new TaskTime.ThreePoint(3, 4, 5)]);
        var exact = File.GetProperty("taylor_solved_problem").GetProperty("beta_pert");
        foreach (var (minutes, chance) in exact.GetProperty("t").EnumerateArray().Zip(exact.GetProperty("cdf_exact").EnumerateArray()))
        {
            Assert.Equal(chance.GetDouble(), work.ChanceWithin(minutes.GetDouble()), Promised);
        }
    }

    /// <summary>Sums of lognormal times: a grid and 6,000,000 draws of the reference set agree; Fenton and Wilkinson's approximation does not.</summary>
    [Fact]
    public void ChanceWithin_LognormalTimes_AreAddedExactly()
    {
        var sums = File.GetProperty("lognormal_sum");
        var work = WorkTime.Of([.. sums.GetProperty("components_median_p90").EnumerateArray().Select(one => new TaskTime.MedianAndP90(one[0].GetDouble(), one[1].GetDouble()))]);
        foreach (var (minutes, chance) in sums.GetProperty("t").EnumerateArray().Zip(sums.GetProperty("cdf_exact_grid").EnumerateArray()))
        {
            Assert.Equal(chance.GetDouble(), work.ChanceWithin(minutes.GetDouble()), Promised);
        }
    }

    /// <summary>Quantiles of single lognormal times, from their closed form.</summary>
    [Fact]
    public void Quantile_OneLognormalTime_IsItsClosedForm()
    {
        foreach (var one in File.GetProperty("lognormal").EnumerateArray())
        {
            var work = WorkTime.Of([new TaskTime.MedianAndP90(one.Number("median"), one.Number("p90"))]);
            Assert.Equal(one.Number("p50"), work.Quantile(0.5), 4);
            Assert.Equal(one.Number("p80"), work.Quantile(0.8), 4);
            Assert.Equal(one.Number("p99"), work.Quantile(0.99), 4);
            Assert.Equal(one.Number("P_le_40"), work.ChanceWithin(40), 6);
        }
    }

    /// <summary>Two hands: the work is done when both are. The chance of the longer one alone would be far too high (the same effect as in the file's two normal paths, 0.739 and not 0.841).</summary>
    [Fact]
    public void ChanceWithin_TwoTechnicians_IsTheProductAndNotTheLongerHand()
    {
        var (first, second) = (new TaskTime.ThreePoint(20, 30, 45), new TaskTime.ThreePoint(18, 28, 45));
        var both = WorkTime.Of([first, second], 2);
        Assert.Equal(first.ChanceWithin(35) * second.ChanceWithin(35), both.ChanceWithin(35), 12);
        Assert.True(both.ChanceWithin(35) < Math.Min(first.ChanceWithin(35), second.ChanceWithin(35)) - 0.05);
    }

    /// <summary>Handed out by likely times in the order given: 9, 5, 4, 3 to two hands is 9+3 and 5+4 (Graham's list rule; ties to the first).</summary>
    [Fact]
    public void Of_SeveralTechnicians_GivesEachTaskToWhoIsFreeFirst()
    {
        var work = WorkTime.Of([Sure(9), Sure(5), Sure(4), Sure(3)], 2);
        Assert.Equal((0, 1), (work.ChanceWithin(11.9), work.ChanceWithin(12.1)));
        Assert.Equal(12, work.Quantile(0.5), 3);
    }

    [Fact]
    public void ChanceWithin_TimesWithoutDoubt_IsAStep()
    {
        Assert.Equal((0, 1, 1), (WorkTime.Of([Sure(3), Sure(4)]).ChanceWithin(6.99), WorkTime.Of([Sure(3), Sure(4)]).ChanceWithin(7), WorkTime.Of([]).ChanceWithin(0)));
        Assert.Equal(0, WorkTime.Of([]).Quantile(0.9));
    }

    /// <summary>Narrow beside wide, heavy tails, many tasks: against 20,000 draws, within four standard errors.</summary>
    [Fact]
    public void ChanceWithin_RandomTasks_AgreesWithSampling()
    {
        var random = new Random(20261126);
        for (var round = 0; round < 12; round++)
        {
            var tasks = Enumerable.Range(0, random.Next(2, 7)).Select(_ => Any(random)).ToArray();
            var work = WorkTime.Of(tasks);
            var draws = Enumerable.Range(0, 20_000).Select(_ => tasks.Sum(task => Draw(task, random))).Order().ToArray();
            foreach (var part in new[] { 0.1, 0.5, 0.9 })
            {
                Assert.Equal(part, work.ChanceWithin(draws[(int)(part * draws.Length)]), 4 * Math.Sqrt(part * (1 - part) / draws.Length) + Promised);
            }
        }
    }

    /// <summary>What is left of a task in progress: the chance given that it has not ended so far.</summary>
    [Fact]
    public void Begun_AfterSomeMinutes_IsTheChanceGivenThatItGoesOn()
    {
        var whole = new TaskTime.ThreePoint(4, 7, 15);
        Assert.Equal((whole.ChanceWithin(12) - whole.ChanceWithin(8)) / (1 - whole.ChanceWithin(8)), new TaskTime.Begun(whole, 8).ChanceWithin(4), 12);
        Assert.Equal(0.75, new TaskTime.Begun(whole, 40).ChanceWithin(2), 12);
    }

    private static TaskTime.ThreePoint Sure(double minutes) => new(minutes, minutes, minutes);

    private static TaskTime Any(Random random)
    {
        var (first, second, third) = (random.NextDouble() * 10, random.NextDouble() * 20, random.NextDouble() * 40);
        return random.Next(3) switch
        {
            0 => new TaskTime.ThreePoint(first, first + second, first + second + third),
            1 => new TaskTime.MedianAndP90(1 + first, (1 + first) * (1.05 + (2 * random.NextDouble()))),
            _ => new TaskTime.OneOf([(0.8, new TaskTime.ThreePoint(first, first + 2, first + 5)), (0.2, new TaskTime.MedianAndP90(30, 70))]),
        };
    }

    private static double Draw(TaskTime task, Random random)
    {
        var (chance, low, high) = (random.NextDouble(), 0.0, 1.0);
        while (task.ChanceWithin(high) < chance && high < 1e9)
        {
            high *= 2;
        }

        for (var step = 0; step < 40; step++)
        {
            var middle = (low + high) / 2;
            (low, high) = task.ChanceWithin(middle) < chance ? (middle, high) : (low, middle);
        }

        return high;
    }
}
