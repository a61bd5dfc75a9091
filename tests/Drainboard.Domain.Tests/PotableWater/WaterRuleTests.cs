using Drainboard.Domain.PotableWater;
using NodaTime;

namespace Drainboard.Domain.Tests.PotableWater;

/// <summary>Cases W1 to W11 worked from 40 CFR part 141 subpart X (edition of 2015; 141.803 as amended 78 FR 10354).</summary>
public sealed class WaterRuleTests
{
    private static readonly Instant Told = Instant.FromUtc(2026, 6, 1, 14, 0);

    [Fact]
    public void W1_EColiPositive_IsRestrictedInADay_AndDisinfectedInThreeWhereItCannotBeShutOff()
    {
        var actions = WaterRule.ActionsAfter(WaterEvent.EColiPositive, Told, canShutOff: false);
        Assert.Equal(Instant.FromUtc(2026, 6, 2, 14, 0), Due(actions, WaterAct.RestrictAccess));
        Assert.Equal(Instant.FromUtc(2026, 6, 4, 14, 0), Due(actions, WaterAct.DisinfectAndFlush));
        Assert.Null(Due(WaterRule.ActionsAfter(WaterEvent.EColiPositive, Told, canShutOff: true), WaterAct.DisinfectAndFlush));
    }

    [Fact]
    public void W2_ColiformPositive_LeavesThreeWays()
    {
        var actions = WaterRule.ActionsAfter(WaterEvent.ColiformPositive, Told, canShutOff: false);
        Assert.Equal(["i", "ii", "iii"], actions.Select(action => action.Way).OfType<string>().Distinct());
        Assert.Equal(Instant.FromUtc(2026, 6, 2, 14, 0), Due(actions, WaterAct.RepeatSamples));
        Assert.Equal(Instant.FromUtc(2026, 6, 4, 14, 0), Due(actions, WaterAct.RestrictAccess));
        Assert.Equal(Instant.FromUtc(2026, 6, 4, 14, 0), actions.First(action => action.Act == WaterAct.DisinfectAndFlush && action.Way == "i").DueAt);
        Assert.Equal("i ii", string.Join(' ', actions.Where(action => action.Act == WaterAct.FollowUpSamples).Select(action => action.Way)));
    }

    [Fact]
    public void W3_RoutineSample_NotWithinSeventyTwoHours()
    {
        var done = Instant.FromUtc(2026, 6, 4, 9, 0);
        Assert.Equal("too-soon", WaterRule.WhyNotRoutineSample(Instant.FromUtc(2026, 6, 7, 8, 59), done)?.Code);
        Assert.NotNull(WaterRule.WhyNotRoutineSample(Instant.FromUtc(2026, 6, 7, 9, 0), done));
        Assert.Null(WaterRule.WhyNotRoutineSample(Instant.FromUtc(2026, 6, 7, 9, 1), done));
        Assert.Null(WaterRule.WhyNotRoutineSample(done - Duration.FromMinutes(1), done));
        Assert.Null(WaterRule.WhyNotRoutineSample(done, null));
    }

    [Fact]
    public void W4_Analysis_StartsWithinThirtyHours()
    {
        var taken = Instant.FromUtc(2026, 6, 1, 6, 0);
        Assert.Equal("too-late", WaterRule.WhyNotAnalysis(taken, Instant.FromUtc(2026, 6, 2, 12, 1))?.Code);
        Assert.Null(WaterRule.WhyNotAnalysis(taken, Instant.FromUtc(2026, 6, 2, 12, 0)));
        Assert.Equal("analysed-before", WaterRule.WhyNotAnalysis(taken, taken - Duration.FromMinutes(1))?.Code);
    }

    /// <summary>W5 and W6, and the table's other rows.</summary>
    [Theory]
    [InlineData(0, 12)]
    [InlineData(1, 12)]
    [InlineData(2, 4)]
    [InlineData(3, 2)]
    [InlineData(4, 1)]
    [InlineData(52, 1)]
    public void W5_W6_SetsAYear_ByTable(int disinfections, int sets) => Assert.Equal(sets, WaterRule.RoutineSetsPerYear(disinfections));

    [Fact]
    public void W7_Repeats_AllNegativeGoOn_OneEColiStartsItsOwnClock()
    {
        Assert.Null(WaterRule.AfterRepeats([(false, false), (false, false), (false, false)]));
        Assert.Equal(WaterEvent.EColiPositive, WaterRule.AfterRepeats([(false, true), (true, true), (false, false)]));
        Assert.Equal(WaterEvent.FollowUpColiformPositive, WaterRule.AfterRepeats([(false, true), (false, false), (false, false)]));
    }

    [Fact]
    public void W8_TapsShutOff_OnlyTheGalleyIsToldByNotice()
    {
        var actions = WaterRule.ActionsAfter(WaterEvent.EColiPositive, Told, canShutOff: true).Select(action => action.Act).ToArray();
        Assert.Contains(WaterAct.NoticeToGalley, actions);
        Assert.DoesNotContain(WaterAct.NoticeInLavatories, actions);
        Assert.Contains(WaterAct.NoticeInLavatories, WaterRule.ActionsAfter(WaterEvent.EColiPositive, Told, canShutOff: false).Select(action => action.Act));
    }

    [Fact]
    public void W9_Lifting_WaitsForTheResultOnlyWhereTheRuleDoes()
    {
        var (disinfected, collected) = (Told + Duration.FromHours(10), Told + Duration.FromHours(12));
        Assert.Null(WaterRule.WhyNotLift(WaterEvent.ColiformPositive, disinfected, collected, null));
        Assert.Equal("follow-up-pending", WaterRule.WhyNotLift(WaterEvent.EColiPositive, disinfected, collected, null)?.Code);
        Assert.Null(WaterRule.WhyNotLift(WaterEvent.EColiPositive, disinfected, collected, true));
        Assert.Equal("follow-up-positive", WaterRule.WhyNotLift(WaterEvent.ColiformPositive, disinfected, collected, false)?.Code);
        Assert.Equal("not-disinfected", WaterRule.WhyNotLift(WaterEvent.MissedRoutine, null, collected, true)?.Code);
        Assert.Equal("no-follow-up", WaterRule.WhyNotLift(WaterEvent.MissedRoutine, disinfected, Told, true)?.Code);
        Assert.Equal("follow-up-pending", WaterRule.WhyNotLift(WaterEvent.FollowUpColiformPositive, disinfected, collected, null)?.Code);
    }

    [Fact]
    public void W10_W11_ReportsAndDeficiencies_CountDays()
    {
        Assert.Equal(new LocalDate(2026, 6, 11), WaterRule.ReportBy(new LocalDate(2026, 6, 1)));
        Assert.Equal(Instant.FromUtc(2026, 6, 11, 14, 0), Due(WaterRule.ActionsAfter(WaterEvent.UnsafeSource, Told, true), WaterAct.Report));
        Assert.Equal(new LocalDate(2026, 8, 30), WaterRule.DeficiencyBy(new LocalDate(2026, 6, 1)));
        Assert.Equal(new LocalDate(2029, 2, 28), WaterRule.InspectionBy(new LocalDate(2024, 2, 29)));
    }

    /// <summary>Whatever happens, access is restricted or samples are taken within three days, and nothing is due before it was told.</summary>
    [Fact]
    public void Actions_OfEveryEvent_AreDueInTheirTimes()
    {
        foreach (var what in Enum.GetValues<WaterEvent>())
        {
            foreach (var shut in new[] { true, false })
            {
                var actions = WaterRule.ActionsAfter(what, Told, shut);
                Assert.All(actions, action => Assert.True(action.DueAt is null ? action.Before.Length > 0 : action.DueAt > Told));
                Assert.True(Due(actions, WaterAct.RestrictAccess) <= Told + Duration.FromHours(72));
                Assert.Single(actions, action => action.Act == WaterAct.Report);
                Assert.All(actions, action => Assert.StartsWith("141.80", action.Source, StringComparison.Ordinal));
            }
        }
    }

    private static Instant? Due(IEnumerable<WaterAction> actions, WaterAct act) => actions.First(action => action.Act == act).DueAt;
}
