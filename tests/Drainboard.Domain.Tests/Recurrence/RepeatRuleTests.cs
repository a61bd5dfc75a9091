using Drainboard.Domain.Defects;
using Drainboard.Domain.Recurrence;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.Recurrence;

/// <summary>
/// Repeats as regulators word them: India DGCA CAR Section 2 Series C Part I 2.2.2 (recurs in spite of a rectification attempt, on
/// the same aircraft). The figures of C1, C2 and C5 are training examples, second-hand; none is a regulator's.
/// </summary>
public sealed class RepeatRuleTests
{
    private static readonly RepeatRule ThreeInFifteenSectors = RepeatRule.Find("3-in-15-sectors");

    [Theory]
    [InlineData("C1", new[] { 1, 8, 15 }, true)]
    [InlineData("C2: rolling window holds all three", new[] { 1, 8, 17 }, false)]
    public void Judge_ThreeInFifteenSectors_CountsTheWindow(string vector, int[] sectors, bool repeats) =>
        Assert.True(repeats == ThreeInFifteenSectors.Judge(sectors.Select(sector => At(sector))) is not null, vector);

    /// <summary>C3: no rectification between: the same open defect reported three times is no repeat.</summary>
    [Fact]
    public void Judge_NoReleaseBetween_IsNoRepeat() =>
        Assert.Null(ThreeInFifteenSectors.Judge([At(1, closed: false), At(8, closed: false), At(15)]));

    /// <summary>C5 (more than one in seven flights): flights 1 and 6 are, 1 and 9 are not.</summary>
    [Theory]
    [InlineData(6, true)]
    [InlineData(9, false)]
    public void Judge_TwoInSevenSectors_CountsTheWindow(int second, bool repeats) =>
        Assert.Equal(repeats, RepeatRule.Find("2-in-7-sectors").Judge([At(1), At(second)]) is not null);

    /// <summary>NASA ASRS ACN 252333: a fault that could not be reproduced was not gone; "no fault found" resets nothing.</summary>
    [Fact]
    public void Judge_NoFaultFoundBetween_StillCounts()
    {
        var flag = RepeatRule.Find("3-in-15-days").Judge([OnDay(0, how: "no fault found"), OnDay(4, how: "no fault found"), OnDay(9)]);

        Assert.Equal(3, flag?.Count);
        Assert.Contains("3rd write-up of this kind in 9 days", flag!.Reason, StringComparison.Ordinal);
        Assert.Contains("no fault found; that lasted 4 days", flag.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Judge_AnotherKindOfSymptom_DoesNotCount() =>
        Assert.Null(RepeatRule.Find("2-in-30-days").Judge([OnDay(0) with { Symptom = Symptom.NoWater }, OnDay(4)]));

    [Theory]
    [InlineData(15, true)]
    [InlineData(16, false)]
    public void Judge_WindowInDays_IncludesItsLastDay(int day, bool repeats) =>
        Assert.Equal(repeats, RepeatRule.Find("3-in-15-days").Judge([OnDay(0), OnDay(7), OnDay(day)]) is not null);

    private static WriteUp At(int sector, bool closed = true) =>
        new(new DefectId(Cabin.NewId()), Symptom.DrainsSlowly, Cabin.Now + Duration.FromHours(sector * 5), sector, closed ? Cabin.Now + Duration.FromHours((sector * 5) + 1) : null, "rectified");

    private static WriteUp OnDay(int day, string how = "rectified") =>
        new(new DefectId(Cabin.NewId()), Symptom.DrainsSlowly, Cabin.Now + Duration.FromDays(day), 0, Cabin.Now + Duration.FromDays(day) + Duration.FromHours(3), how);
}
