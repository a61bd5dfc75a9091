using Drainboard.Domain.Deferrals;

namespace Drainboard.Domain.Tests.Deferrals;

/// <summary>
/// Category day counts against published rules: FAA MMEL Policy Letter PL-25 as quoted second-hand (B 3, C 10, D 120 consecutive
/// calendar days, the day recorded excluded; the worked example of 26 January) and, where marked, our arithmetic from it.
/// </summary>
public sealed class DeferralClockTests
{
    private static readonly DateTimeZone NewYork = DateTimeZoneProviders.Tzdb["America/New_York"];
    private static readonly DateTimeZone Tokyo = DateTimeZoneProviders.Tzdb["Asia/Tokyo"];

    [Theory]
    [InlineData("F1: published example", Category.B, "2026-01-26T10:00Z", "2026-01-27T00:00Z", "2026-01-30T00:00Z")]
    [InlineData("F2: published example", Category.C, "2026-01-26T10:00Z", "2026-01-27T00:00Z", "2026-02-06T00:00Z")]
    [InlineData("F3: our arithmetic, first minute", Category.B, "2026-01-26T00:00Z", "2026-01-27T00:00Z", "2026-01-30T00:00Z")]
    [InlineData("F3: our arithmetic, last minute", Category.B, "2026-01-26T23:59Z", "2026-01-27T00:00Z", "2026-01-30T00:00Z")]
    [InlineData("F4: our arithmetic", Category.D, "2026-01-26T10:00Z", "2026-01-27T00:00Z", "2026-05-27T00:00Z")]
    [InlineData("F5: our arithmetic, leap year", Category.D, "2028-01-26T10:00Z", "2028-01-27T00:00Z", "2028-05-26T00:00Z")]
    [InlineData("F6: our arithmetic, leap day inside", Category.B, "2028-02-26T10:00Z", "2028-02-27T00:00Z", "2028-03-01T00:00Z")]
    [InlineData("F6: our arithmetic, no leap day", Category.B, "2026-02-26T10:00Z", "2026-02-27T00:00Z", "2026-03-02T00:00Z")]
    [InlineData("F7: our arithmetic, over the year's end", Category.C, "2026-12-24T10:00Z", "2026-12-25T00:00Z", "2027-01-04T00:00Z")]
    public void Read_InUtc_ExcludesTheDayRecordedAndCountsWholeDays(string source, Category category, string recorded, string starts, string due)
    {
        var reading = DeferralClock.Read(new ClockQuestion(DeferralPolicies.Us, category, At(recorded), DateTimeZone.Utc));

        Assert.True((At(starts), At(due)) == (reading.StartsAt, reading.DueAt), $"{source}: {reading.StartsAt} to {reading.DueAt}");
    }

    [Theory]
    [InlineData("F8: our arithmetic", "America/New_York", "2026-01-27T01:30Z", "2026-01-30T05:00Z", "2026-01-31T00:00Z")]
    [InlineData("F9: our arithmetic", "Asia/Tokyo", "2026-01-25T23:00Z", "2026-01-29T15:00Z", "2026-01-29T00:00Z")]
    public void Read_LocalAgainstUtc_CountsInTheZoneOfThePolicy(string source, string zone, string recorded, string local, string utc)
    {
        var there = DateTimeZoneProviders.Tzdb[zone];

        Assert.True(At(local) == Read(Local, Category.B, At(recorded), there).DueAt, source);
        Assert.True(At(utc) == Read(DeferralPolicies.Us, Category.B, At(recorded), there).DueAt, source);
    }

    /// <summary>F10: our arithmetic. Clocks go forward on 8 March: three days last 71 hours, and calendar days win.</summary>
    [Fact]
    public void Read_OverSpringForward_IsThreeDaysAndSeventyOneHours()
    {
        var reading = Read(Local, Category.B, At("2026-03-07T03:30Z"), NewYork);

        Assert.Equal(At("2026-03-10T04:00Z"), reading.DueAt);
        Assert.Equal(Duration.FromHours(71), reading.DueAt - reading.StartsAt);
        Assert.Contains(reading.Explanation, step => step.Text.Contains("71 hours, not 72", StringComparison.Ordinal));
    }

    /// <summary>F11: our arithmetic. Clocks go back on 1 November: three days last 73 hours.</summary>
    [Fact]
    public void Read_OverFallBack_IsThreeDaysAndSeventyThreeHours()
    {
        var reading = Read(Local, Category.B, At("2026-10-30T13:00Z"), NewYork);

        Assert.Equal(At("2026-11-03T05:00Z"), reading.DueAt);
        Assert.Equal(Duration.FromHours(73), reading.DueAt - reading.StartsAt);
    }

    /// <summary>E7: HKAR-MMEL/MEL section 2, paragraph 5 (Issue 1 Rev 4): category A in calendar days starts at 00:01 on the day after discovery.</summary>
    [Fact]
    public void Read_StartOneMinutePast_StartsThere()
    {
        var policy = DeferralPolicies.Us with { CalendarStart = CalendarStart.OneMinutePast };
        var reading = DeferralClock.Read(new ClockQuestion(policy, Category.A, At("2026-05-10T13:00Z"), DateTimeZone.Utc, IntervalDays: 2));

        Assert.Equal(At("2026-05-11T00:01Z"), reading.StartsAt);
        Assert.Equal(At("2026-05-13T00:00Z"), reading.DueAt);
    }

    [Fact]
    public void Read_ItemStricterThanCategory_TakesTheItemsDays() =>
        Assert.Equal(At("2026-01-29T00:00Z"), DeferralClock.Read(new ClockQuestion(DeferralPolicies.Eu, Category.B, At("2026-01-26T10:00Z"), DateTimeZone.Utc, IntervalDays: 2)).DueAt);

    [Fact]
    public void Read_FixedEndBeforeTheDays_ComesFirst() =>
        Assert.Equal(At("2026-01-28T12:00Z"), DeferralClock.Read(new ClockQuestion(DeferralPolicies.Us, Category.A, At("2026-01-26T10:00Z"), DateTimeZone.Utc, IntervalDays: 3) { Limits = [new ClockLimit(ClockUnit.FixedDate, null, At("2026-01-28T12:00Z"))] }).DueAt);

    [Fact]
    public void WhyNot_CategoryAWithoutInterval_SaysWhereItBelongs() =>
        Assert.Equal("no-interval", DeferralClock.WhyNot(new ClockQuestion(DeferralPolicies.Us, Category.A, At("2026-01-26T10:00Z"), DateTimeZone.Utc))?.Code);

    /// <summary>A zone made for this test goes forward at midnight, so that 00:00 does not exist there; the day begins at 01:00 local, the same instant.</summary>
    [Fact]
    public void Read_EndAtAMidnightThatDoesNotExist_EndsAtTheFirstInstantOfThatDay()
    {
        var zone = new NodaTime.Testing.TimeZones.SingleTransitionDateTimeZone(At("2026-01-30T00:00Z"), 0, 1);

        Assert.Equal(At("2026-01-30T00:00Z"), Read(Local, Category.B, At("2026-01-26T10:00Z"), zone).DueAt);
    }

    [Theory]
    [InlineData("2026-01-29T23:59Z", false)]
    [InlineData("2026-01-30T00:00Z", true)]
    public void HasLapsed_AtTheEnd_IsLapsed(string now, bool lapsed) =>
        Assert.Equal(lapsed, Read(DeferralPolicies.Us, Category.B, At("2026-01-26T10:00Z"), Tokyo).HasLapsed(At(now)));

    /// <summary>Samoa skipped 30 December 2011 altogether. The date counts as it does on paper; it has no hours, so three days last 48.</summary>
    [Fact]
    public void Read_OverADateThatAZoneSkipped_CountsTheDate()
    {
        var reading = Read(Local, Category.B, At("2011-12-29T00:00Z"), DateTimeZoneProviders.Tzdb["Pacific/Apia"]);

        Assert.Equal(At("2011-12-31T10:00Z"), reading.DueAt);
        Assert.Equal(Duration.FromHours(48), reading.DueAt - reading.StartsAt);
        Assert.Contains(reading.Explanation, step => step.Text.Contains("skipped in Pacific/Apia", StringComparison.Ordinal));
    }

    /// <summary>A clock that would end at the start of the skipped date ends at the start of the next one, the same instant.</summary>
    [Fact]
    public void Read_EndOnASkippedDate_EndsWhereTheNextBegins() =>
        Assert.Equal(At("2011-12-30T10:00Z"), Read(Local, Category.B, At("2011-12-27T00:00Z"), DateTimeZoneProviders.Tzdb["Pacific/Apia"]).DueAt);

    /// <summary>In Beirut clocks go forward at midnight: 29 March 2026 begins at 01:00 local.</summary>
    [Fact]
    public void StartOf_AMidnightThatDoesNotExistInTzdb_IsTheInstantOfTheJump() =>
        Assert.Equal(At("2026-03-28T22:00Z"), CalendarDays.StartOf(DateTimeZoneProviders.Tzdb["Asia/Beirut"], new LocalDate(2026, 3, 29)));

    private static DeferralPolicy Local => DeferralPolicies.Us with { TimeBase = TimeBase.Local };

    private static ClockReading Read(DeferralPolicy policy, Category category, Instant recorded, DateTimeZone zone) =>
        DeferralClock.Read(new ClockQuestion(policy, category, recorded, zone));

    private static Instant At(string text) => NodaTime.Text.OffsetDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd'T'HH':'mmo<Z+HH:mm>").Parse(text).Value.ToInstant();
}
