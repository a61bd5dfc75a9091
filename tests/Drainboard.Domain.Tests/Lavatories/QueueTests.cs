using Drainboard.Domain.Lavatories;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Lavatories;

/// <summary>
/// Reference set 10: eye clinic (Gross and Harris, Fundamentals of Queueing Theory), Hillier and Lieberman's emergency room (from memory), the
/// Kolkmeyer case (Anderson, Sweeney and Williams, An Introduction to Management Science, section 11.8), Winston's police cars (from memory), and
/// published Erlang C table points.
/// </summary>
public sealed class QueueTests
{
    [Fact]
    public void Open_OfThePublishedCases_IsExact()
    {
        foreach (var one in Vector.Read("10_queues").GetProperty("mmc").EnumerateArray())
        {
            var queue = OpenQueue.Of(one.GetProperty("lam").GetDouble(), one.GetProperty("mu").GetDouble(), one.GetProperty("c").GetInt32())!;
            Assert.Equal(one.GetProperty("Pw").GetDouble(), queue.WaitProbability, 12);
            Assert.Equal(one.GetProperty("Wq").GetDouble(), queue.MeanWait, 12);
            Assert.Equal(one.GetProperty("Lq").GetDouble(), queue.MeanWaiting, 11);
        }

        var clinic = OpenQueue.Of(6, 3, 3)!;
        Assert.Equal(4 / 9.0, clinic.WaitProbability, 14);
        Assert.Equal(8 / 9.0, clinic.MeanWaiting, 13);
    }

    [Fact]
    public void Open_OfTheErlangTable_IsExact()
    {
        foreach (var one in Vector.Read("10_queues").GetProperty("erlang_table").EnumerateArray())
        {
            Assert.Equal(one.GetProperty("erlangC").GetDouble(), OpenQueue.Of(one.GetProperty("a").GetDouble(), 1, one.GetProperty("c").GetInt32())!.WaitProbability, 11);
        }

        // Published to two digits: 8 channels at 3.87 erlang wait in 5 %, 10 at 4.08 in 1 %.
        Assert.Equal(0.05, OpenQueue.Of(3.87, 1, 8)!.WaitProbability, 2);
        Assert.Equal(0.01, OpenQueue.Of(4.08, 1, 10)!.WaitProbability, 2);
        var eight = OpenQueue.Of(3.87, 1, 8)!;
        Assert.Equal(0.016, eight.ChanceOfLonger(1, 3.87, 1, 8) / eight.WaitProbability, 3);
    }

    [Fact]
    public void Finite_OfThePublishedCases_IsExact()
    {
        foreach (var one in Vector.Read("10_queues").GetProperty("finite_source").EnumerateArray())
        {
            var queue = FiniteQueue.Of(one.GetProperty("N").GetInt32(), one.GetProperty("lam").GetDouble(), one.GetProperty("mu").GetDouble(), one.GetProperty("c").GetInt32());
            Assert.Equal(one.GetProperty("P_wait_arrival").GetDouble(), queue.ArrivingWaitProbability, 11);
            Assert.Equal(one.GetProperty("P_all_busy_time").GetDouble(), queue.AllOccupied, 11);
            Assert.Equal(one.GetProperty("Wq").GetDouble(), queue.MeanWait, 10);
            Assert.Equal(one.GetProperty("Lq").GetDouble(), queue.MeanWaiting, 10);
            Assert.Equal(one.GetProperty("L").GetDouble(), queue.MeanThere, 10);
            Assert.Equal(one.GetProperty("lam_eff").GetDouble(), queue.Arrivals, 10);
        }
    }

    /// <summary>The book's "probability of waiting" is a share of time, .5155; who arrives waits with .436.</summary>
    [Fact]
    public void Finite_OfKolkmeyer_TellsTimeFromArrivals()
    {
        var queue = FiniteQueue.Of(6, 0.05, 0.5, 1);
        Assert.Equal(0.5155, queue.AllOccupied, 4);
        Assert.Equal(0.436, queue.ArrivingWaitProbability, 3);
        Assert.Equal(1.279, queue.MeanWait, 3);
    }

    [Fact]
    public void Open_OfALavatoryTooFew_HasNoEnd()
    {
        Assert.Null(OpenQueue.Of(0.625, 0.4, 1));
        Assert.Null(OpenQueue.Of(1, 1, 1));
        Assert.Equal((0.260, 0.45), (Math.Round(OpenQueue.Of(0.625, 0.4, 3)!.WaitProbability, 3), Math.Round(OpenQueue.Of(0.625, 0.4, 3)!.MeanWait, 2)));
        Assert.Equal(0.046264, OpenQueue.Of(0.625, 0.4, 3)!.ChanceOfLonger(3, 0.625, 0.4, 3), 6);
    }

    /// <summary>A cabin of five hundred with one lavatory overflows nothing; one person alone never waits; more lavatories never mean more waiting.</summary>
    [Fact]
    public void Finite_AtItsEdges_Holds()
    {
        var crowd = FiniteQueue.Of(500, 0.5, 0.4, 1);
        Assert.InRange(crowd.ArrivingWaitProbability, 0.999, 1);
        Assert.Equal(500, crowd.MeanThere + (crowd.Arrivals / 0.5), 6);
        Assert.Equal(0, FiniteQueue.Of(1, 0.5, 0.4, 1).MeanWait);
        var waits = Enumerable.Range(1, 8).Select(count => FiniteQueue.Of(180, 0.25 / 60, 0.4, count).MeanWait).ToArray();
        Assert.Equal(waits.OrderDescending(), waits);
    }
}
