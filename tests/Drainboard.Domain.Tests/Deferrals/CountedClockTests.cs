using Drainboard.Domain.Deferrals;

namespace Drainboard.Domain.Tests.Deferrals;

/// <summary>
/// Category A limits counted on flights. Flight day: FAA PL-25 R16 definition 9 (quoted); start of hours and cycles: PL-25 second-hand
/// (at deferral) and the TC MMEL guide, ATA 38 (next flight). Monday is 26 January 2026.
/// </summary>
public sealed class CountedClockTests
{
    private static readonly LocalDate Monday = new(2026, 1, 26);

    /// <summary>F12: two flight days, recorded Monday; flights Monday, Tuesday, none on Wednesday, Thursday: ends at the end of Thursday.</summary>
    [Fact]
    public void FlightDays_TwoFromMonday_SkipTheDayWithoutAFlight()
    {
        var reading = Read(DeferralPolicies.Us, At(Monday, 8), ClockUnit.FlightDays, 2, On(Monday, 10), On(Monday.PlusDays(1), 9), On(Monday.PlusDays(3), 9));

        Assert.Equal(Midnight(Monday.PlusDays(4)), reading.DueAt);
        Assert.Equal(Midnight(Monday.PlusDays(1)), reading.StartsAt);
    }

    /// <summary>F13: the dispute in NASA ASRS ACN 478121: three flight days recorded Sunday, out of service on Wednesday, are not over until the end of Thursday.</summary>
    [Fact]
    public void FlightDays_ThreeFromSunday_AreOverAtTheEndOfThursday()
    {
        var reading = Read(DeferralPolicies.Us, At(Monday.PlusDays(-1), 8), ClockUnit.FlightDays, 3, On(Monday, 9), On(Monday.PlusDays(1), 9), On(Monday.PlusDays(3), 9));

        Assert.Equal(Midnight(Monday.PlusDays(4)), reading.DueAt);
    }

    /// <summary>E8: HKAR-MMEL/MEL section 2 paragraph 5: found 10 May, no flight on the 11th, flights on the 12th and 13th: starts on the 12th, ends with the 13th.</summary>
    [Fact]
    public void FlightDays_InHongKong_StartWithTheNextFlightDay()
    {
        var found = new LocalDate(2026, 5, 10);
        var reading = Read(DeferralPolicies.Hk with { TimeBase = TimeBase.Utc }, At(found, 13), ClockUnit.FlightDays, 2, On(found.PlusDays(2), 9), On(found.PlusDays(3), 9));

        Assert.Equal((Midnight(found.PlusDays(2)), Midnight(found.PlusDays(4))), (reading.StartsAt!.Value, reading.DueAt!.Value));
    }

    /// <summary>F14: ten flight hours, deferred 14:05 after landing: counted from 14:05 under the FAA's reading, with the next flight under Transport Canada's.</summary>
    [Fact]
    public void FlightHours_Ten_StartAtDeferralOrWithTheNextFlight()
    {
        var deferred = At(Monday, 14) + Duration.FromMinutes(5);
        ClockSector[] flights = [On(Monday, 16), On(Monday.PlusDays(1), 9), On(Monday.PlusDays(2), 9)];

        Assert.Equal(deferred, Read(DeferralPolicies.Us, deferred, ClockUnit.FlightHours, 10, flights).StartsAt);
        Assert.Equal(At(Monday, 16), Read(DeferralPolicies.Ca, deferred, ClockUnit.FlightHours, 10, flights).StartsAt);
    }

    [Theory]
    [InlineData(4, 1, 12)]
    [InlineData(5, 2, 10)]
    public void FlightHours_UsedUpInsideAFlight_EndInProportion(int limit, int day, int hour) =>
        Assert.Equal(At(Monday.PlusDays(day), hour), Read(DeferralPolicies.Us, At(Monday, 8), ClockUnit.FlightHours, limit, On(Monday, 10, 1), On(Monday.PlusDays(1), 9), On(Monday.PlusDays(2), 9)).DueAt);

    /// <summary>Deferred in the air: the rest of that flight counts at once, and as a cycle; from the next flight it does not.</summary>
    [Fact]
    public void FlightUnderWay_CountsAtDeferralAndNotFromTheNextFlight()
    {
        ClockSector[] flights = [On(Monday, 10, 4), On(Monday.PlusDays(1), 9)];

        Assert.Equal(At(Monday, 14), Read(DeferralPolicies.Us, At(Monday, 12), ClockUnit.FlightHours, 2, flights).DueAt);
        Assert.Equal(At(Monday, 14), Read(DeferralPolicies.Us, At(Monday, 12), ClockUnit.FlightCycles, 1, flights).DueAt);
        Assert.Equal(At(Monday.PlusDays(1), 11), Read(DeferralPolicies.Ca, At(Monday, 12), ClockUnit.FlightHours, 2, flights).DueAt);
        Assert.Equal(At(Monday.PlusDays(1), 12), Read(DeferralPolicies.Ca, At(Monday, 12), ClockUnit.FlightCycles, 1, flights).DueAt);
    }

    /// <summary>E9: TC MMEL guide: three cycles, found on arrival on Monday: the next departure is cycle one.</summary>
    [Fact]
    public void FlightCycles_InCanada_CountTheNextDepartureAsTheFirst()
    {
        ClockSector[] flights = [On(Monday, 8), On(Monday, 15), On(Monday.PlusDays(1), 9), On(Monday.PlusDays(2), 9), On(Monday.PlusDays(3), 9)];
        var reading = Read(DeferralPolicies.Ca, At(Monday, 11), ClockUnit.FlightCycles, 3, flights);

        Assert.Equal(At(Monday, 15), reading.StartsAt);
        Assert.Equal(flights[3].OnBlock, reading.DueAt);
        Assert.True(ClockReading.MayFly(reading.DueAt!.Value, flights[3], ExpiryTest.Arrival));
        Assert.False(ClockReading.MayFly(reading.DueAt.Value, flights[4], ExpiryTest.Arrival));
    }

    /// <summary>E10: TC TP 9155 App. B: category A is extended only with approval beforehand.</summary>
    [Theory]
    [InlineData(false, "approval-before")]
    [InlineData(true, null)]
    public void Extension_OfAInCanada_NeedsApprovalBeforehand(bool approved, string? refusal)
    {
        var ask = new ClockQuestion(DeferralPolicies.Ca, Category.A, At(Monday, 10), DateTimeZone.Utc, 3) { Extensions = [new ClockExtension(2, null, approved ? At(Monday.PlusDays(1), 9) : null)] };

        Assert.Equal(refusal, DeferralClock.WhyNot(ask)?.Code);
    }

    /// <summary>E11: 145.A.50(f) (UK SI 2025/1150): a part without release certificate is off after 30 flight hours, or at the first return to the main line station, whichever is sooner.</summary>
    [Theory]
    [InlineData("29.9 flight hours", 29.9, false)]
    [InlineData("30.1 flight hours", 30.1, true)]
    public void UncertifiedPart_AfterThirtyFlightHours_MustBeOff(string vector, double flown, bool off)
    {
        var fitted = At(Monday, 6);
        var flights = Enumerable.Range(0, 10).Select(day => ClockSector.Of(At(Monday.PlusDays(day), 8), At(Monday.PlusDays(day), 8) + (Duration.FromHours(flown) / 10), null)).ToArray();
        var reading = DeferralClock.Read(new ClockQuestion(DeferralPolicies.Uk with { CountedUnitStart = CountedUnitStart.Deferral }, Category.A, fitted, DateTimeZone.Utc) { Limits = [new ClockLimit(ClockUnit.FlightHours, 30, null)], Sectors = flights });

        Assert.True(off == reading.HasLapsed(flights[^1].OnBlock), vector);
    }

    [Fact]
    public void UncertifiedPart_BackAtTheMainLineStationAfterFourHours_MustBeOffThere()
    {
        var back = On(Monday, 8, 4);
        var reading = DeferralClock.Read(new ClockQuestion(DeferralPolicies.Uk with { CountedUnitStart = CountedUnitStart.Deferral }, Category.A, At(Monday, 6), DateTimeZone.Utc)
        {
            Limits = [new ClockLimit(ClockUnit.FlightHours, 30, null), new ClockLimit(ClockUnit.FixedDate, null, back.OnBlock)],
            Sectors = [back],
        });

        Assert.Equal((back.OnBlock, ClockUnit.FixedDate), (reading.DueAt!.Value, reading.Binding!.Value));
    }

    [Fact]
    public void Flights_ThatDoNotUseItUp_LeaveItOpen()
    {
        var reading = Read(DeferralPolicies.Us, At(Monday, 8), ClockUnit.FlightCycles, 3, On(Monday, 10));

        Assert.True(reading.OpenEnded);
        Assert.Null(reading.DueAt);
        Assert.Equal(1, reading.Counts[0].Used);
    }

    /// <summary>The EU's text was not read for when hours and cycles start: the operator sets it, and until then there is no end.</summary>
    [Fact]
    public void FlightCycles_WithTheirStartYetToSet_GiveNoEndAndNameTheField()
    {
        var reading = Read(DeferralPolicies.Eu, At(Monday, 8), ClockUnit.FlightCycles, 1, On(Monday, 10));

        Assert.Equal(["countedUnitStart"], reading.Unset);
        Assert.Null(reading.DueAt);
        Assert.False(reading.OpenEnded);
    }

    [Theory]
    [InlineData(ExpiryTest.Departure, true)]
    [InlineData(ExpiryTest.Arrival, false)]
    public void MayFly_OverTheEnd_DependsOnWhatIsTested(ExpiryTest test, bool may) =>
        Assert.Equal(may, ClockReading.MayFly(Midnight(Monday.PlusDays(1)), On(Monday, 23), test));

    [Fact]
    public void Sector_AcrossMidnight_IsOfTheDayOnWhichItIsInitiated() =>
        Assert.Equal(Midnight(Monday.PlusDays(2)), Read(DeferralPolicies.Us, At(Monday, 8), ClockUnit.FlightDays, 1, On(Monday.PlusDays(1), 23)).DueAt);

    private static ClockReading Read(DeferralPolicy policy, Instant recorded, ClockUnit unit, decimal count, params ClockSector[] flights) =>
        DeferralClock.Read(new ClockQuestion(policy, Category.A, recorded, DateTimeZone.Utc) { Limits = [new ClockLimit(unit, count, null)], Sectors = flights, AsOf = At(Monday.PlusDays(30), 0) });

    private static ClockSector On(LocalDate day, int hour, int hours = 3) => ClockSector.Of(At(day, hour), At(day, hour) + Duration.FromHours(hours), null);

    private static Instant At(LocalDate day, int hour) => day.AtMidnight().PlusHours(hour).InUtc().ToInstant();

    private static Instant Midnight(LocalDate day) => day.AtMidnight().InUtc().ToInstant();
}
