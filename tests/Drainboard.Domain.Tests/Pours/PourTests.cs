using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.Pours;

/// <summary>A stored pour: what it needs, what it is compared with, and what it says.</summary>
public sealed class PourTests
{
    private static readonly string[] Confirmed = ["ground", "area", "discharge"];

    [Fact]
    public void Time_WithAComparableReference_SaysHowOpenAndHowSure()
    {
        var clean = Record(Terms(18, reference: true));
        var slow = Record(Terms(36, PourRun.Slowly), clean);

        Assert.Equal((0.5, PourResult.Slow, "slow, 50 % of clean"), (slow.Openness!.Value, slow.Result, slow.ResultWords));

        // GUM first order: 0.5 x sqrt((0.5/18)^2 + (0.5/36)^2), worked by hand.
        Assert.Equal(0.015528, slow.OpennessUncertainty!.Value, 6);
        Assert.Null(clean.Openness);
    }

    [Fact]
    public void Time_AtTheLimit_IsNotSlow_AndBelowItIs()
    {
        var clean = Record(Terms(15, reference: true));

        Assert.Equal(PourResult.Ok, Record(Terms(20, PourRun.Slowly), clean).Result);
        Assert.Equal(PourResult.Slow, Record(Terms(20.1, PourRun.Freely), clean).Result);
    }

    [Fact]
    public void Time_WithoutAReference_GoesByWhatThePersonSaw()
    {
        Assert.Equal((PourResult.Ok, "runs free"), (Record(Terms(20)).Result, Record(Terms(20)).ResultWords));
        Assert.Equal((PourResult.Slow, "stood"), (Record(Terms(120, PourRun.NotAtAll)).Result, Record(Terms(120, PourRun.NotAtAll)).ResultWords));
    }

    [Fact]
    public void Time_FasterThanCleanBeyondTheWatch_SaysSo()
    {
        var clean = Record(Terms(20, reference: true));

        Assert.True(Record(Terms(15), clean).IsFasterThanClean);
        Assert.False(Record(Terms(19.5), clean).IsFasterThanClean);
    }

    [Fact]
    public void Withdraw_StaysOnRecordWithItsReason_Once()
    {
        var pour = Record(Terms(20));

        Assert.Equal("no-reason", Cabin.Refused(pour.Withdraw(" ", Cabin.Technician, Cabin.Now)).Code);
        var fact = Cabin.Done(pour.Withdraw("wrong sink", Cabin.Technician, Cabin.Now));
        Assert.Equal(("pour.withdrawn", "wrong sink", "Tech"), (fact.Kind, pour.WithdrawnWhy, pour.WithdrawnBy));
        Assert.Equal("withdrawn-before", Cabin.Refused(pour.Withdraw("again", Cabin.Technician, Cabin.Now)).Code);
    }

    [Fact]
    public void Time_OfABasinThatStoodForAMoment_IsRefused() => Assert.Equal("stood-too-soon", Refused(Terms(9.9, PourRun.NotAtAll)));

    [Theory]
    [InlineData(0, "no-time")]
    [InlineData(-1, "no-time")]
    [InlineData(1801, "too-long")]
    [InlineData(0.4, "uncertainty")]
    public void Time_OfATimeThatCannotBe_IsRefused(double seconds, string code) => Assert.Equal(code, Refused(Terms(seconds)));

    [Theory]
    [InlineData("T-A", "not-a-gravity-drain")]
    [InlineData("DM", "nothing-to-pour-into")]
    [InlineData("X-9", "no-such-position")]
    public void Time_WhereNothingIsPoured_IsRefused(string position, string code) =>
        Assert.Equal(code, Cabin.Refused(Time(Terms(20), null, Position.Parse(position), Cabin.Layout, null, out _)).Code);

    [Fact]
    public void Time_AtAFixtureThatNothingIsDrawnBelow_IsRefusedWithWhoMendsIt()
    {
        var bare = new CabinLayout(new LayoutId(Guid.Empty), "T2", 1, "Test", 1, [Cabin.Of("K-1", FixtureKind.GalleySink)], []);

        Assert.Equal("no-path", Cabin.Refused(Time(Terms(20), null, Cabin.Sink, bare, null, out _)).Code);
    }

    [Fact]
    public void Time_WithoutEveryConfirmation_NamesWhatIsMissing()
    {
        var refusal = Cabin.Refused(Time(Terms(20) with { Confirmed = ["ground", "area"] }, null, Cabin.Sink, Cabin.Layout, null, out _));

        Assert.Equal("not-confirmed", refusal.Code);
        Assert.Contains("Discharge is allowed", refusal.Words, StringComparison.Ordinal);
        Assert.DoesNotContain("under the mast", refusal.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Time_OfAReferenceThatDidNotRunFreely_IsRefused() => Assert.Equal("reference-not-free", Refused(Terms(20, PourRun.Slowly, reference: true)));

    [Theory]
    [InlineData(null, null, null, "measure")]
    [InlineData(1000, 120, 20, "measure")]
    [InlineData(50, null, null, "volume")]
    [InlineData(null, 20, 120, "marks")]
    [InlineData(null, 120, null, "marks")]
    [InlineData(null, 501, 20, "marks")]
    public void Time_OfAMeasureThatCannotBe_IsRefused(int? millilitres, int? from, int? to, string code) => Assert.Equal(code, Refused(Terms(20) with { Measure = new PourMeasure(millilitres, from, to) }));

    [Fact]
    public void Time_ForADefect_KnowsWhetherItFindsOrProves()
    {
        var defect = Cabin.Open();
        Cabin.Done(Time(Terms(40, PourRun.Slowly), null, Cabin.Sink, Cabin.Layout, defect, out var before));
        Cabin.Done(Cabin.RecordWork(defect, out _));
        Cabin.Done(Time(Terms(18), null, Cabin.Sink, Cabin.Layout, defect, out var after, Cabin.Now));
        Cabin.Done(Time(Terms(18), null, Cabin.Sink, Cabin.Layout, defect, out var late, Cabin.Now + Duration.FromMinutes(1)));

        Assert.Equal((PourMoment.Before, PourMoment.After), (before!.Moment, after!.Moment));

        // Timed before the work and sent after it: still before.
        Assert.Equal(PourMoment.Before, late!.Moment);
        Assert.Equal(PourMoment.Between, Record(Terms(18)).Moment);
    }

    /// <summary>A clock that is off is said, never refused.</summary>
    [Fact]
    public void Time_OnADeviceWhoseClockRunsAhead_IsTakenAsOfReceipt()
    {
        var fact = Cabin.Done(Time(Terms(20) with { PouredAt = Cabin.Now + Duration.FromDays(300) }, null, Cabin.Sink, Cabin.Layout, null, out var made));

        Assert.Equal(Cabin.Now, made!.PouredAt);
        Assert.Equal("2026-11-22T10:00:00Z", fact.Fields["deviceTime"]);
    }

    [Fact]
    public void Time_OnRecord_TellsTheWholePour()
    {
        var fact = Cabin.Done(Time(Terms(46.2, PourRun.Slowly), Record(Terms(17.4, reference: true)), Cabin.Sink, Cabin.Layout, null, out _));

        Assert.Equal(("pour.timed", 46_200L, "area discharge ground"), (fact.Kind, fact.Fields["milliseconds"], fact.Fields["confirmed"]));
        Assert.Contains("46.2 s: slow, 38 % of clean", fact.Words, StringComparison.Ordinal);
    }

    private static PourTerms Terms(double seconds, PourRun run = PourRun.Freely, bool reference = false) => new(PourMeasure.Marks(120, 20), (long)(seconds * 1000), 500, run, reference, Cabin.Now, Confirmed);

    private static Pour Record(PourTerms terms, Pour? reference = null)
    {
        Cabin.Done(Time(terms, reference, Cabin.Sink, Cabin.Layout, null, out var made));
        return made!;
    }

    private static string Refused(PourTerms terms) => Cabin.Refused(Time(terms, null, Cabin.Sink, Cabin.Layout, null, out _)).Code;

    private static Decision Time(PourTerms terms, Pour? reference, Position at, CabinLayout layout, Defect? defect, out Pour? made, Instant? workedAt = null) =>
        Pour.Time(new PourId(Cabin.NewId()), new Tail(Cabin.Tail, Registration.Parse("QQ-TSA"), layout.Id, []), layout, at, defect, workedAt, terms, reference, 75, Cabin.Technician, Cabin.Now, out made);
}
