using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.Isolation;

/// <summary>Advice at one fixture of a cabin: S-1 under K-1, then the branch BR and the mast DM, which K-2 shares.</summary>
public sealed class DrainAdviceTests
{
    private static readonly Position Other = Position.Parse("K-2");

    [Fact]
    public void Work_OneSlowSink_PointsToTheStrainer_AndTwoToTheBranch()
    {
        var one = Work(Slow(Cabin.Sink));
        var both = Work(Slow(Cabin.Sink, Other));

        Assert.Equal("S-1", one.Segments[0].Fixture.Position.Value);
        Assert.Equal("BR", both.Segments[0].Fixture.Position.Value);
    }

    /// <summary>Every circumstance is a product over blocked segments, so the whole stays exact: against plain enumeration of the 8 states.</summary>
    [Theory]
    [InlineData(true, null, false, null)]
    [InlineData(false, -5, false, null)]
    [InlineData(false, null, true, null)]
    [InlineData(false, null, false, "S-1")]
    [InlineData(true, -5, true, "S-1")]
    public void Work_WithCircumstances_IsWhatEnumerationGives(bool aloft, int? outside, bool backsUp, string? opened)
    {
        var terms = AdviceTerms.Usual;
        var circumstances = new Circumstances(aloft, outside, backsUp ? Other : null, opened is null ? null : Position.Parse(opened));
        var advice = Work(Slow(Cabin.Sink), circumstances);
        var (path, otherPath) = (CabinDrains.PathOf(Cabin.Layout, Cabin.Sink), backsUp ? CabinDrains.PathOf(Cabin.Layout, Other) : []);
        var prior = path.Select(segment => BlockagePriors.Of(segment.Kind)).ToArray();
        var blocked = new double[3];
        var all = 0.0;
        for (var state = 0; state < 8; state++)
        {
            var weight = 1.0;
            for (var at = 0; at < 3; at++)
            {
                weight *= (state & (1 << at)) == 0 ? 1 - prior[at] : prior[at] * circumstances.Ratio(path[at], path, otherPath, terms);
            }

            var count = System.Numerics.BitOperations.PopCount((uint)state);
            weight *= 1 - ((1 - terms.Leak) * Math.Pow(1 - terms.Link, count));
            weight *= backsUp ? 1 - ((1 - terms.Leak) * Math.Pow(1 - terms.Link, System.Numerics.BitOperations.PopCount((uint)state >> 1))) : 1;
            all += weight;
            for (var at = 0; at < 3; at++)
            {
                blocked[at] += (state & (1 << at)) == 0 ? 0 : weight;
            }
        }

        for (var at = 0; at < 3; at++)
        {
            Assert.Equal(blocked[at] / all, advice.Segments.Single(segment => segment.Fixture == path[at]).Blocked, 9);
        }
    }

    /// <summary>Slow in flight and fine on the ground points to ice, a mast heater or a valve, not the strainer (common practice, no source).</summary>
    [Fact]
    public void Work_SlowAloftAndFineOnTheGround_PointsToTheMast_AndSetsTheGroundPourAside()
    {
        var advice = Work(new Dictionary<Position, PourResult> { [Cabin.Sink] = PourResult.Ok, [Other] = PourResult.Ok }, new Circumstances(AloftOnly: true, OutsideCelsius: -8));

        Assert.Equal("DM", advice.Segments[0].Fixture.Position.Value);
        Assert.Equal(PourResult.Slow, Assert.Single(advice.Evidence).Value);
        Assert.Empty(advice.Pours);
        Assert.Null(advice.Worthwhile);
    }

    [Fact]
    public void Work_WithNothingSlow_SaysSo()
    {
        Assert.False(Work(new Dictionary<Position, PourResult> { [Cabin.Sink] = PourResult.Ok }).IsAnythingSlow);
        Assert.True(Work(Slow(Other)).IsAnythingSlow);
    }

    /// <summary>A strainer cleaned again and again that does not hold points downstream; backing up into another fixture points below their junction (common practice, no source).</summary>
    [Fact]
    public void Work_FixThatDidNotHold_AndBackingUp_PointDownstream()
    {
        var before = Work(Slow(Cabin.Sink)).Segments.Single(segment => segment.Fixture.Position.Value == "BR").Blocked;
        var after = Work(Slow(Cabin.Sink), new Circumstances(DidNotHoldAt: Position.Parse("S-1")));
        var backing = Work(Slow(Cabin.Sink), new Circumstances(BacksUpInto: Other));

        Assert.True(after.Segments.Single(segment => segment.Fixture.Position.Value == "BR").Blocked > 2 * before);
        Assert.Equal("BR", backing.Segments[0].Fixture.Position.Value);
        Assert.Contains(backing.Explanation, step => step.Text.Contains("backs up into K-2", StringComparison.Ordinal));
    }

    /// <summary>Blocking at a steady rate: after the usual days as likely as the share says, after twice as many 1 - (1 - p)^2.</summary>
    [Fact]
    public void PriorOf_DaysSinceOpened_FollowsASteadyRate()
    {
        var strainer = Cabin.Of("S-1", FixtureKind.Strainer);
        var p = BlockagePriors.Of(FixtureKind.Strainer);
        double Of(double days) => DrainAdvice.PriorOf(strainer, new SegmentHistory(0, 0, days, null), 1, AdviceTerms.Usual);

        Assert.Equal(p, Of(30), 12);
        Assert.Equal(1 - ((1 - p) * (1 - p)), Of(60), 12);
        Assert.True(Of(1) < p / 10);
        Assert.Equal(Of(90), Of(900), 12);
    }

    [Fact]
    public void Work_WithThisFleetsMinutes_UsesThemAndSaysSo()
    {
        var advice = DrainAdvice.Work(Cabin.Layout, Cabin.Sink, Slow(Cabin.Sink), Circumstances.None, at => at.Value == "S-1" ? new SegmentHistory(3, 4, null, (4, 12)) : SegmentHistory.None, AdviceTerms.Usual)!;
        var strainer = advice.Segments.Single(segment => segment.Fixture.Position.Value == "S-1");

        Assert.Equal((4, "this fleet's own: median of 12"), (strainer.Minutes, strainer.MinutesFrom));
        Assert.Equal((30, "common practice"), advice.Segments.Where(segment => segment.Fixture.Position.Value == "DM").Select(segment => (segment.Minutes, segment.MinutesFrom)).Single());
    }

    [Theory]
    [InlineData(1.0, 0.01)]
    [InlineData(0.95, 0.0)]
    [InlineData(double.NaN, 0.01)]
    public void WhyNot_ChancesThatLeaveNoDoubt_AreRefused(double link, double leak) => Assert.Equal("chances", (AdviceTerms.Usual with { Link = link, Leak = leak }).WhyNot()!.Code);

    [Fact]
    public void WhyNot_TheUsualTerms_AreSound_AndAnAbsurdRatioIsNot()
    {
        Assert.Null(AdviceTerms.Usual.WhyNot());
        Assert.Equal("ratios", (AdviceTerms.Usual with { FreezingAtMast = 0 }).WhyNot()!.Code);
        Assert.Equal("minutes", (AdviceTerms.Usual with { DeferMinutes = -1 }).WhyNot()!.Code);
        Assert.Equal("weights", (AdviceTerms.Usual with { DaysToUsual = 0 }).WhyNot()!.Code);
    }

    private static Dictionary<Position, PourResult> Slow(params Position[] at) => at.ToDictionary(one => one, _ => PourResult.Slow);

    private static DrainAdvice Work(IReadOnlyDictionary<Position, PourResult> seen, Circumstances? circumstances = null) =>
        DrainAdvice.Work(Cabin.Layout, Cabin.Sink, seen, circumstances ?? Circumstances.None, _ => SegmentHistory.None, AdviceTerms.Usual)!;
}
