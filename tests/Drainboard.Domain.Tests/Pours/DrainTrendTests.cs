using Drainboard.Domain.Pours;

namespace Drainboard.Domain.Tests.Pours;

public sealed class DrainTrendTests
{
    private static readonly Instant Begin = Instant.FromUtc(2026, 1, 1, 0, 0);

    /// <summary>
    /// The example of Sen, J. Am. Stat. Assoc. 63 (1968): slope 4, interval at a level of 93 % from 3.71 to 4.38. Read in the test suite of an open
    /// statistics library that cites it.
    /// </summary>
    [Fact]
    public void Slope_OfThePublishedExample_IsThePublishedOne()
    {
        // 96.5 % point of the normal distribution.
        var (slope, low, high) = DrainTrend.Slope([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78], 1.8119106729525978);

        Assert.Equal(4, slope, 12);
        Assert.Equal((3.71, 4.38), (Math.Round(low, 2), Math.Round(high, 2)));
    }

    [Fact]
    public void Slope_WithOneWildValue_HardlyMoves()
    {
        double[] days = [0, 3, 6, 9, 12, 15, 18, 21];
        var straight = days.Select(day => 1 - (0.01 * day)).ToArray();
        double[] wild = [.. straight];
        wild[4] = 0.1;

        Assert.Equal(-0.01, DrainTrend.Slope(days, straight).Slope, 12);
        Assert.Equal(-0.01, DrainTrend.Slope(days, wild).Slope, 2);
    }

    [Fact]
    public void Of_FourPours_IsTooFew_AndSoAreFiveAtOnce()
    {
        Assert.Equal(DrainTrendVerdict.TooFew, Of(Falling(4)).Verdict);
        Assert.Equal(DrainTrendVerdict.TooFew, Of([.. Enumerable.Range(0, 5).Select(_ => (Begin, 0.9))]).Verdict);
    }

    /// <summary>1 % a day from 100 %: 75 % is met on the 25th day, by whichever slope, because all are alike.</summary>
    [Fact]
    public void Of_ASteadyFall_MeetsTheLimitWhenTheLineDoes()
    {
        var trend = Of(Falling(6));

        Assert.Equal(DrainTrendVerdict.Falling, trend.Verdict);
        Assert.Equal(Begin + Duration.FromDays(25), Rounded(trend.Crosses!.Value));
        Assert.Equal(Begin + Duration.FromDays(25), Rounded(trend.Earliest!.Value));
        Assert.Equal(Begin + Duration.FromDays(25), Rounded(trend.Latest!.Value));
    }

    [Fact]
    public void Of_ScatterWithoutADirection_FindsNoTrendAndForetellsNoEnd()
    {
        var trend = Of([.. new[] { 0.97, 0.99, 0.96, 1.0, 0.97, 0.98 }.Select((open, at) => (Begin + Duration.FromDays(3 * at), open))]);

        Assert.Equal((DrainTrendVerdict.NoTrend, (Instant?)null, (Instant?)null), (trend.Verdict, trend.Crosses, trend.Latest));
    }

    [Fact]
    public void Of_ALineBelowTheLimitAlready_SaysSlow()
    {
        var trend = DrainTrend.Of([.. Enumerable.Range(0, 6).Select(at => (Begin + Duration.FromDays(3 * at), 0.7 - (0.01 * at)))], 0.75, Begin + Duration.FromDays(18));

        Assert.Equal((DrainTrendVerdict.Slow, (Instant?)null), (trend.Verdict, trend.Crosses));
    }

    /// <summary>A newest pour below the limit is slow now, whatever the middle line says: no day is foretold for what has come.</summary>
    [Fact]
    public void Of_ANewestPourBelowTheLimit_SaysSlow()
    {
        var trend = Of([.. Falling(5), (Begin + Duration.FromDays(15), 0.33)]);

        Assert.Equal((DrainTrendVerdict.Slow, (Instant?)null), (trend.Verdict, trend.Crosses));
    }

    /// <summary>Nothing is said of the time after the newest pour but when the line would meet the limit.</summary>
    [Fact]
    public void Of_PoursOfLongAgo_AreJudgedAtTheNewestOfThem()
    {
        var trend = DrainTrend.Of(Falling(5), 0.75, Begin + Duration.FromDays(90));

        Assert.Equal((DrainTrendVerdict.Falling, 0.88), (trend.Verdict, Math.Round(trend.Last!.Value, 6)));
        Assert.Equal(Begin + Duration.FromDays(90), trend.Crosses);
    }

    [Fact]
    public void Of_AFallTooSlowToMeetTheLimitInAYear_ForetellsNoDay()
    {
        var trend = DrainTrend.Of([.. Enumerable.Range(0, 8).Select(at => (Begin + Duration.FromDays(3 * at), 1 - (0.0001 * at)))], 0.75, Begin + Duration.FromDays(24));

        Assert.Equal((DrainTrendVerdict.Falling, (Instant?)null), (trend.Verdict, trend.Crosses));
    }

    private static (Instant, double)[] Falling(int pours) => [.. Enumerable.Range(0, pours).Select(at => (Begin + Duration.FromDays(3 * at), 1 - (0.03 * at)))];

    private static DrainTrend Of(IReadOnlyList<(Instant, double)> pours) => DrainTrend.Of(pours, 0.75, Begin + Duration.FromDays(18));

    private static Instant Rounded(Instant at) => Instant.FromUnixTimeSeconds((long)Math.Round((at - Instant.FromUnixTimeSeconds(0)).TotalSeconds / 60) * 60);
}
