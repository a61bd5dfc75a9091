using Drainboard.Domain.Lavatories;

namespace Drainboard.Domain.Tests.Lavatories;

public sealed class CabinWaitingTests
{
    [Fact]
    public void Waiting_GrowsWithEveryToiletOut_AndIsWorstAtThePeak()
    {
        var all = Enumerable.Range(1, 8).Select(count => CabinWaiting.Of(280, count, LavatoryTerms.Usual)!).ToArray();
        Assert.All(all, one => Assert.True(one.Peak.ArrivingWaitProbability >= one.Usual.ArrivingWaitProbability - 1e-12));
        Assert.Equal(all.OrderByDescending(one => one.PassengerMinutes(9)), all);
        Assert.Null(CabinWaiting.Of(280, 0, LavatoryTerms.Usual));
        Assert.Null(CabinWaiting.Of(0, 3, LavatoryTerms.Usual));
    }

    /// <summary>Time without a peak, time with one, and no more peak than there is flight.</summary>
    [Fact]
    public void PassengerMinutes_AddUpOverTheSector()
    {
        var waiting = CabinWaiting.Of(174, 2, LavatoryTerms.Usual)!;
        Assert.Equal(60 * waiting.Peak.MeanWaiting, waiting.PassengerMinutes(1), 9);
        Assert.Equal(30 * waiting.Peak.MeanWaiting, waiting.PassengerMinutes(0.5), 9);
        Assert.Equal(60 * (waiting.Peak.MeanWaiting + (2 * waiting.Usual.MeanWaiting)), waiting.PassengerMinutes(3), 9);
        Assert.Equal(0, waiting.PassengerMinutes(0));
        Assert.Equal(60 * ((2 * waiting.Peak.MeanWaiting) + (5 * waiting.Usual.MeanWaiting)), waiting.PassengerMinutes(7), 9);
    }

    /// <summary>After each meal, inside the sector, never one over the other.</summary>
    [Fact]
    public void Peaks_FollowTheMealsOfTheSector()
    {
        var terms = LavatoryTerms.Usual;
        Assert.Equal([(1.5, 2.5)], CabinWaiting.Peaks(4, terms));
        Assert.Equal([(1.0, 2.0)], CabinWaiting.Peaks(2, terms));
        Assert.Equal([(0.0, 0.5)], CabinWaiting.Peaks(0.5, terms));
        Assert.Equal([(1.5, 2.5), (11.25, 12.25)], CabinWaiting.Peaks(13, terms));
        Assert.Equal([(1.5, 4.5), (4.5, 6.0)], CabinWaiting.Peaks(6, terms with { PeakHours = 3 }));
        Assert.Empty(CabinWaiting.Peaks(0, terms));
    }
}
