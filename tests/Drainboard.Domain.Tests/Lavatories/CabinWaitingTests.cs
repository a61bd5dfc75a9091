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
    }
}
