using Drainboard.Domain.Cards;
using Drainboard.Domain.Deferrals;
using NodaTime;

namespace Drainboard.Domain.Tests.Cards;

/// <summary>145.A.50(f): a component without a release certificate, 30 flight hours or the first return to the main line station or main base.</summary>
public sealed class PartClockTests
{
    private static readonly Instant Fitted = Instant.FromUtc(2026, 3, 2, 8, 0);

    [Theory]
    [InlineData(29.9, false)]
    [InlineData(30.1, true)]
    public void Read_ByFlightHours_LapsesAtThirty(double hours, bool lapsed)
    {
        var flown = Sectors(hours);
        var now = flown[^1].OnBlock + Duration.FromHours(1);

        Assert.Equal(lapsed, PartClock.Read(Fitted, flown, [], now).HasLapsed(now));
    }

    [Fact]
    public void Read_OnReturnAfterFourHours_MustBeOffThen()
    {
        var flown = Sectors(4);
        var home = flown[^1].OnBlock;

        var clock = PartClock.Read(Fitted, Sectors(20), [Fitted - Duration.FromDays(1), home], home);

        Assert.Equal((true, home), (clock.IsReturn, clock.DueAt));
        Assert.True(clock.HasLapsed(home));
    }

    [Fact]
    public void Read_WithNeitherLimitInSight_HasNoEndYet() => Assert.Null(PartClock.Read(Fitted, Sectors(12), [], Fitted).DueAt);

    // Flights of two hours each, the last one shorter.
    private static List<ClockSector> Sectors(double hours)
    {
        List<ClockSector> all = [];
        for (var at = Fitted + Duration.FromHours(1); hours > 0.001; at += Duration.FromHours(4), hours -= 2)
        {
            all.Add(ClockSector.Of(at, at + Duration.FromHours(Math.Min(2, hours)), null));
        }

        return all;
    }
}
