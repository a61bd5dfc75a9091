using CsCheck;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PotableWater;
using NodaTime;

namespace Drainboard.Domain.Tests.PotableWater;

/// <summary>From a result to the end of what it starts, by 40 CFR 141.803(c), (e), (f).</summary>
public sealed class WaterCaseTests
{
    private static readonly Instant Told = Instant.FromUtc(2026, 6, 1, 14, 0);
    private static readonly IReadOnlyDictionary<Position, long> Never = new Dictionary<Position, long>();

    /// <summary>W9: after a coliform-positive routine sample, way ii, the set need only be collected; after E. coli it must be negative.</summary>
    [Theory]
    [InlineData(WaterEvent.ColiformPositive, true)]
    [InlineData(WaterEvent.MissedRoutine, true)]
    [InlineData(WaterEvent.UnsafeSource, true)]
    [InlineData(WaterEvent.EColiPositive, false)]
    [InlineData(WaterEvent.FollowUpColiformPositive, false)]
    [InlineData(WaterEvent.UnsafeSourceEColi, false)]
    public void W9_CollectedSet_LiftsWhereTheRuleSaysSo(WaterEvent kind, bool liftsOnCollected)
    {
        var one = Open(kind, way: kind == WaterEvent.ColiformPositive ? "ii" : null);
        Assert.True(one.RestrictsAt(Told));
        Assert.Equal("not-disinfected", one.WhyNotLift(null, null)?.Code);
        Assert.Equal("not-disinfected", one.WhyNotLift(Told - Duration.FromHours(1), null)?.Code);
        var disinfected = Told + Duration.FromHours(10);
        Assert.Equal("no-follow-up", one.WhyNotLift(disinfected, null)?.Code);
        var set = Collect(SamplePurpose.FollowUp, one, disinfected + Duration.FromHours(1), disinfected);
        Assert.Equal(liftsOnCollected ? null : "follow-up-pending", one.WhyNotLift(disinfected, set)?.Code);
        Tell(set, (0, false, false), (1, false, false));
        Assert.Null(one.WhyNotLift(disinfected, set));
        Assert.IsType<Decision.Done>(one.Lift(disinfected, set, Ids.By, disinfected + Duration.FromDays(1)));
        Assert.False(one.RestrictsAt(Told));
        Assert.Equal("case-ended", one.WhyNotLift(disinfected, set)?.Code);
    }

    /// <summary>W7: three negative repeats end it; one with E. coli starts the severe event.</summary>
    [Fact]
    public void W7_Repeats_Decide()
    {
        var one = Open(WaterEvent.ColiformPositive);
        Assert.False(one.RestrictsAt(Told));
        Assert.Equal("no-way", one.WhyNotLift(Told, null)?.Code);
        Assert.Equal("no-way", Assert.IsType<Decision.Refused>(one.Do(WaterAct.RestrictAccess, Told, Ids.By, Told)).Refusal.Code);
        one.Choose("iii", Told);
        Assert.False(one.RestrictsAt(Told));
        Assert.Equal("repeats-decide", one.WhyNotLift(Told, null)?.Code);
        var taps = SampleTaps.Choose(Ids.Layout, SamplePurpose.Repeat, Never, Ids.Taps("K-2"));
        Assert.Equal(Ids.Taps("K-2", "B-1", "K-1"), taps);
        var set = Collect(SamplePurpose.Repeat, one, Told + Duration.FromHours(2), null, [.. taps]);
        Tell(set, (0, false, false), (1, false, false));
        Assert.Null(WaterRule.AfterSamples(set.Purpose, set.Samples));
        Assert.Null(set.IsNegative);
        Tell(set, (2, true, true));
        Assert.Equal(WaterEvent.EColiPositive, WaterRule.AfterSamples(set.Purpose, set.Samples));
    }

    /// <summary>Neither choosing nothing nor missing the repeats leaves access open longer than the rule does: 72 and 24 hours, both included; and nobody repeats their way out of a restriction.</summary>
    [Fact]
    public void Access_IsNotLeftOpenByDoingNothing()
    {
        var one = Open(WaterEvent.ColiformPositive);
        Assert.False(one.RestrictsAt(Told + Duration.FromHours(72)));
        Assert.True(one.RestrictsAt(Told + Duration.FromHours(72) + Duration.Epsilon));
        Assert.Equal("no-longer", Refused(one.Choose("iii", Told + Duration.FromHours(25))));
        one.Choose("iii", Told + Duration.FromHours(24));
        Assert.False(one.RestrictsAt(Told + Duration.FromHours(24)));
        Assert.True(one.RestrictsAt(Told + Duration.FromHours(25)));
        Assert.Equal("missed-repeats", one.WhyNotSample(SamplePurpose.Repeat, Told + Duration.FromHours(25), null)?.Code);
        one.TakeRepeats(Told + Duration.FromHours(20));
        Assert.False(one.RestrictsAt(Told + Duration.FromHours(25)));
        one.Choose("ii", Told + Duration.FromHours(26));
        Assert.True(one.RestrictsAt(Told + Duration.FromHours(26)));
        Assert.Equal("no-longer", Refused(one.Choose("iii", Told + Duration.FromHours(1))));
        Assert.Equal("not-this-way", Refused(one.EndByRepeats(Ids.By, Told + Duration.FromHours(30))));
    }

    [Fact]
    public void NextCase_KeepsWhatIsRestrictedAndNoticed()
    {
        var (one, next) = (Open(WaterEvent.ColiformPositive, "ii"), Open(WaterEvent.FollowUpColiformPositive));
        one.Do(WaterAct.RestrictAccess, Told, Ids.By, Told);
        one.Do(WaterAct.Report, Told, Ids.By, Told);
        one.GiveWayTo(next, Ids.By, Told);
        Assert.Equal(WaterAct.RestrictAccess, Assert.Single(next.Done).Act);
    }

    [Fact]
    public void RepeatSet_WithoutThePositiveTap_OrTwoOnly_IsRefused()
    {
        Assert.Equal("positive-tap", SampleTaps.WhyNot(Ids.Layout, SamplePurpose.Repeat, Ids.Taps("K-1", "B-1", "B-2"), Ids.Taps("K-2"))?.Code);
        Assert.Equal("too-few-samples", SampleTaps.WhyNot(Ids.Layout, SamplePurpose.Repeat, Ids.Taps("K-2", "B-1"), Ids.Taps("K-2"))?.Code);
        Assert.Equal("tap-missing", SampleTaps.WhyNot(Ids.Layout, SamplePurpose.Repeat, Ids.Taps("K-2", "B-1", "B-2"), Ids.Taps("K-2"))?.Code);
        Assert.Null(SampleTaps.WhyNot(Ids.Layout, SamplePurpose.Repeat, Ids.Taps("K-2", "B-1", "K-1"), Ids.Taps("K-2")));
    }

    [Theory]
    [InlineData("K-1 K-2", "tap-missing")]
    [InlineData("K-1 T-1", "no-such-tap")]
    [InlineData("K-1 X-9", "no-such-tap")]
    [InlineData("K-1", "too-few-samples")]
    [InlineData("K-1 B-2", null)]
    public void RoutineSet_IsOneLavatoryAndOneGalley(string taps, string? refusal) =>
        Assert.Equal(refusal, SampleTaps.WhyNot(Ids.Layout, SamplePurpose.Routine, Ids.Taps(taps.Split(' ')), [])?.Code);

    [Fact]
    public void OneTapOnly_GivesTwoSamplesFromIt()
    {
        var layout = new CabinLayout(new LayoutId(Guid.Empty), "T8", 1, "Test", 10, [new Fixture(Position.Parse("B-1"), FixtureKind.LavatoryBasin, "Basin", "Aft", 90, 50)], []);
        Assert.Equal(Ids.Taps("B-1", "B-1"), SampleTaps.Choose(layout, SamplePurpose.Routine, Never, []));
        Assert.Null(SampleTaps.WhyNot(layout, SamplePurpose.Routine, Ids.Taps("B-1", "B-1"), []));
    }

    [Fact]
    public void TapSampledLongestAgo_IsOfferedFirst() =>
        Assert.Equal(Ids.Taps("B-2", "K-1"), SampleTaps.Choose(Ids.Layout, SamplePurpose.Routine, new Dictionary<Position, long> { [Position.Parse("B-1")] = 5, [Position.Parse("B-2")] = 3, [Position.Parse("K-2")] = 1 }, []));

    [Fact]
    public void Result_ThatContradicts_IsRefused_AndNothingIsLost()
    {
        var set = Collect(SamplePurpose.Routine, null, Told, null);
        Assert.Equal("not-coliform", Refused(set.Tell([(0, Told, false, true)], Told)));
        Assert.Equal("analysed-before", Refused(set.Tell([(0, Told - Duration.FromMinutes(1), false, false)], Told)));
        Assert.Equal("too-late", Refused(set.Tell([(0, Told + Duration.FromHours(30) + Duration.FromMinutes(1), false, false)], Told + Duration.FromDays(3))));
        Assert.Equal("told-before", Refused(set.Tell([(0, Told + Duration.FromHours(2), false, false)], Told + Duration.FromHours(1))));
        Assert.Equal("no-such-sample", Refused(set.Tell([(2, Told, false, false)], Told)));
        Tell(set, (0, false, false));
        Assert.Equal("told-already", Refused(set.Tell([(0, Told + Duration.FromHours(1), true, false)], Told + Duration.FromDays(1))));
        Assert.True(set.Samples[0].IsTold);
        Assert.IsType<Decision.Done>(set.Void("analysed too late", Told));
        Assert.False(set.Counts);
    }

    /// <summary>Whatever happens in whatever order, access is given back only after a disinfection since the event, a full set after that, and where it must be, a negative one.</summary>
    [Fact]
    public void Lifting_NeverComesBeforeItsCondition() =>
        Gen.Select(Gen.Enum<WaterEvent>(), Gen.Int[-100, 200], Gen.Int[-100, 200], Gen.Int[0, 3]).Sample((kind, disinfected, collected, result) =>
        {
            var one = Open(kind, way: kind == WaterEvent.ColiformPositive ? "i" : null);
            var (at, taken) = (Told + Duration.FromHours(disinfected), Told + Duration.FromHours(collected));
            var decision = SampleSet.Collect(new SampleSetId(Ids.New()), Ids.Tail, Ids.Layout, SamplePurpose.FollowUp, Ids.Taps("B-1", "K-1"), one, [], taken, at <= taken ? at : null, Ids.By, Told + Duration.FromDays(20), out var set);
            Assert.Equal(disinfected >= 0 && collected >= disinfected, decision is Decision.Done);
            if (set is not null && result > 0)
            {
                Tell(set, (0, result == 2, false), (1, false, false));
            }

            var mayLift = one.WhyNotLift(at, set) is null;
            var needsNegative = kind is WaterEvent.EColiPositive or WaterEvent.MissedAfterEColi or WaterEvent.UnsafeSourceEColi or WaterEvent.FollowUpColiformPositive;
            Assert.Equal(set is not null && (needsNegative ? result is 1 or 3 : result != 2), mayLift);
        });

    [Fact]
    public void Report_MayBeMadeAfterAccessIsBack()
    {
        var one = Open(WaterEvent.MissedRoutine);
        var set = Collect(SamplePurpose.FollowUp, one, Told + Duration.FromHours(3), Told + Duration.FromHours(2));
        one.Lift(Told + Duration.FromHours(2), set, Ids.By, Told + Duration.FromHours(4));
        Assert.IsType<Decision.Refused>(one.Do(WaterAct.RestrictAccess, Told, Ids.By, Told));
        Assert.IsType<Decision.Done>(one.Do(WaterAct.Report, Told + Duration.FromDays(2), Ids.By, Told + Duration.FromDays(2)));
    }

    private static WaterCase Open(WaterEvent kind, string? way = null)
    {
        WaterCase.Open(new WaterCaseId(Ids.New()), Ids.Tail, kind, Told, false, null, "what happened", Ids.By, Told, out var made);
        if (way is not null)
        {
            made!.Choose(way, Told);
        }

        return made!;
    }

    private static SampleSet Collect(SamplePurpose purpose, WaterCase? of, Instant at, Instant? disinfected, Position[]? taps = null)
    {
        var decision = SampleSet.Collect(new SampleSetId(Ids.New()), Ids.Tail, Ids.Layout, purpose, taps ?? Ids.Taps("B-1", "K-1"), of, [], at, disinfected, Ids.By, at, out var made);
        Assert.IsType<Decision.Done>(decision);
        return made!;
    }

    private static void Tell(SampleSet set, params (int Sample, bool Coliform, bool EColi)[] results) =>
        Assert.IsType<Decision.Done>(set.Tell([.. results.Select(result => (result.Sample, set.CollectedAt + Duration.FromHours(5), result.Coliform, result.EColi))], set.CollectedAt + Duration.FromHours(30)));

    private static string Refused(Decision decision) => Assert.IsType<Decision.Refused>(decision).Refusal.Code;
}
