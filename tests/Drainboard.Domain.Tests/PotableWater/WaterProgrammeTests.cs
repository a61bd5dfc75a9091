using CsCheck;
using Drainboard.Domain.PotableWater;
using NodaTime;

namespace Drainboard.Domain.Tests.PotableWater;

/// <summary>Programmes against 40 CFR 141.803(b)(3), table B-1, and what falls due under one.</summary>
public sealed class WaterProgrammeTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 6, 1, 12, 0);

    private static readonly WaterTerms Quarterly = new("Quarterly", true, 91, 365, 60, false, "TEST-WATER 1", "40 CFR 141.803(b)(3)", [new WaterItem("uv-lamp", "UV lamp", 365, 3000)]);

    /// <summary>Table B-1: disinfected 4, 3, 2 or 1 times a year, sampled at least 1, 2, 4 or 12 times.</summary>
    [Theory]
    [InlineData(91, 365)]
    [InlineData(121, 182)]
    [InlineData(182, 91)]
    [InlineData(365, 30)]
    public void Sampling_AsOftenAsTheTableAsks_AndNoLessOften(int disinfectEvery, int sampleEvery)
    {
        Assert.Null((Quarterly with { DisinfectEveryDays = disinfectEvery, SampleEveryDays = sampleEvery }).WhyNot());
        Assert.Equal("water-samples", (Quarterly with { DisinfectEveryDays = disinfectEvery, SampleEveryDays = sampleEvery + 1 }).WhyNot()?.Code);
        Assert.Null((Quarterly with { UnderSubpartX = false, DisinfectEveryDays = disinfectEvery, SampleEveryDays = Math.Min(366, sampleEvery + 1) }).WhyNot());
    }

    [Fact]
    public void Inspection_AtLeastEveryFiveYears() =>
        Assert.Equal("water-inspection", (Quarterly with { InspectEveryMonths = 61 }).WhyNot()?.Code);

    /// <summary>Whatever the interval, what is due lies exactly it after the last time, and is over from the moment after.</summary>
    [Fact]
    public void Dues_LieTheIntervalAfterTheLastTime() =>
        Gen.Select(Gen.Int[1, 366], Gen.Int[0, 800]).Sample((days, ago) =>
        {
            var last = Now - Duration.FromDays(ago);
            var due = WaterDues.Of(Quarterly with { UnderSubpartX = false, DisinfectEveryDays = days }, [Deed(WaterDeedKind.DisinfectedAndFlushed, last)], null, _ => 0, DateTimeZone.Utc, Now).Single(one => one.Key == "disinfection");
            Assert.Equal(last + Duration.FromDays(days), due.DueAt);
            Assert.Equal(ago > days, due.IsOver);
        });

    [Fact]
    public void Item_IsOverByDaysOrByHours_WhicheverFirst()
    {
        var deeds = new[] { Deed(WaterDeedKind.ItemServiced, Now - Duration.FromDays(100), new WaterItem("uv-lamp", "UV lamp", 365, 3000)) };
        Assert.False(Item(2999).IsOver);
        Assert.Equal(1, Item(2999).HoursLeft);
        Assert.True(Item(3001).IsOver);
        Assert.True(WaterDues.Of(Quarterly, deeds, null, _ => 0, DateTimeZone.Utc, Now + Duration.FromDays(266)).Single(due => due.Key == "item uv-lamp").IsOver);

        WaterDue Item(double flown) => WaterDues.Of(Quarterly, deeds, null, _ => flown, DateTimeZone.Utc, Now).Single(due => due.Key == "item uv-lamp");
    }

    /// <summary>W11: found 2026-06-01, put right by 2026-08-30, that whole day included (141.808).</summary>
    [Fact]
    public void W11_Deficiency_IsDueUntilItIsPutRight()
    {
        var found = Deed(WaterDeedKind.DeficiencyFound, Now);
        var due = Due([found], Instant.FromUtc(2026, 8, 30, 23, 59));
        Assert.Equal(new LocalDate(2026, 8, 30), due!.DueAt!.Value.InUtc().Date);
        Assert.False(due.IsOver);
        Assert.True(Due([found], Instant.FromUtc(2026, 8, 31, 0, 0))!.IsOver);
        WaterDeed.Record(new WaterDeedId(Ids.New()), Ids.Tail, WaterDeedKind.DeficiencyCorrected, Now + Duration.FromDays(1), null, found, "WO 2", Ids.By, Now + Duration.FromDays(1), out var corrected);
        Assert.Null(Due([found, corrected!], Now));

        static WaterDue? Due(WaterDeed[] deeds, Instant now) => WaterDues.Of(Quarterly, deeds, null, _ => 0, DateTimeZone.Utc, now).SingleOrDefault(due => due.Key.StartsWith("deficiency", StringComparison.Ordinal));
    }

    private static WaterDeed Deed(WaterDeedKind kind, Instant at, WaterItem? item = null)
    {
        WaterDeed.Record(new WaterDeedId(Ids.New()), Ids.Tail, kind, at, item, null, "WO 1", Ids.By, Now, out var made);
        return made!;
    }
}
