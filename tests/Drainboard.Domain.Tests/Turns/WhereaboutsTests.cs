using Drainboard.Domain.Fleet;
using Drainboard.Domain.Tests.Situations;
using Drainboard.Domain.Turns;

namespace Drainboard.Domain.Tests.Turns;

public sealed class WhereaboutsTests
{
    private static readonly StationCode Here = StationCode.Parse("QQAA");
    private static readonly StationCode There = StationCode.Parse("QQBB");

    [Theory]
    [InlineData(-90, "QQAA")]
    [InlineData(0, "QQAA")]
    [InlineData(59, "QQAA")]
    [InlineData(60, "QQBB")]
    public void CurrentOrNext_AroundAStay_IsTheStayThenTheNext(int minutes, string station) =>
        Assert.Equal(station, Whereabouts.CurrentOrNext([Stay(Here, -30, 60), Stay(There, 120, 200)], At(minutes))?.Station.Value);

    /// <summary>On blocks and not off: a late departure has not left because its estimate has passed.</summary>
    [Theory]
    [InlineData(90, "QQAA")]
    [InlineData(119, "QQAA")]
    [InlineData(120, "QQBB")]
    public void CurrentOrNext_PastTheEstimateAndNotOffBlocks_IsStillHereUntilTheNextStayBegins(int minutes, string station) =>
        Assert.Equal(station, Whereabouts.CurrentOrNext([Stay(Here, -30, 60, on: -30), Stay(There, 120, 200)], At(minutes))?.Station.Value);

    [Fact]
    public void ReachableAt_WithinTwelveHoursOfDeparture_StillCountsTheLastStation()
    {
        Turn[] turns = [Stay(Here, -30, 60), Stay(There, 120, 2000)];

        Assert.Equal(["QQBB", "QQAA"], Whereabouts.ReachableAt(turns, At(60 + (11 * 60))).Select(code => code.Value));
        Assert.Equal(["QQBB"], Whereabouts.ReachableAt(turns, At(60 + (12 * 60))).Select(code => code.Value));
    }

    [Theory]
    [InlineData(60, 0, null, null, "departs-before-arrival")]
    [InlineData(0, 60, null, 50, "off-without-on")]
    [InlineData(0, 60, 10, 5, "off-before-on")]
    [InlineData(0, 60, 0, 60, null)]
    public void TurnTimes_ThatCannotBe_AreRefused(int arrives, int departs, int? on, int? off, string? code) =>
        Assert.Equal(code, new TurnTimes("1", At(arrives), At(departs), on is { } onBlocks ? At(onBlocks) : null, off is { } offBlocks ? At(offBlocks) : null).WhyNot()?.Code);

    private static Turn Stay(StationCode station, int arrives, int departs, int? on = null) =>
        new(new TurnId(Cabin.NewId()), "K", Cabin.Tail, station, new TurnTimes("1", At(arrives), At(departs), on is { } onBlocks ? At(onBlocks) : null, null));

    private static Instant At(int minutes) => Cabin.Now + Duration.FromMinutes(minutes);
}
