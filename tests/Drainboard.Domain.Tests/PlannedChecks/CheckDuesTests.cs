using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.Tests.Situations;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;

namespace Drainboard.Domain.Tests.PlannedChecks;

/// <summary>When planned checks are due. The rhythm of a check is the operator's own; what is tested is that the words on the check are kept to.</summary>
public sealed class CheckDuesTests
{
    private static readonly Instant Now = Cabin.Now;
    private static readonly Tail Tail = new(Cabin.Tail, Registration.Parse("QQ-TSA"), Cabin.Layout.Id, []);
    private static readonly Visit Stay = StayOf(null);

    [Fact]
    public void EveryStay_IsDueUntilItIsDoneInThisStay()
    {
        var check = Check(new CheckTerms("Panels", "Closed", null, CabinPlace.Outside, 0, 1, "LC-1"));

        Assert.Equal((CheckReason.EveryStay, Stay.DepartsAt), Only(Of([check])) is var due ? (due.Reason, due.DueAt) : default);
        Assert.Single(Of([check], [Done(check, null, Stay.ArrivesAt - Duration.FromMinutes(31))]));

        // In early, and the arrival is told late.
        Assert.Empty(Of([check], [Done(check, null, Stay.ArrivesAt - Duration.FromMinutes(30))]));
        Assert.Single(Of([check], [Done(check, null, Stay.ArrivesAt + Duration.FromMinutes(1), CheckOutcome.NotReached)]));
    }

    /// <summary>The first moment of the day after, and not before: due within a day of the departure, from the day it was done.</summary>
    [Theory]
    [InlineData(30, 28.91, 0)]
    [InlineData(30, 28.94, 1)]
    [InlineData(30, 31, 1)]
    public void Interval_IsDueOneDayAheadOfItsEnd(int every, double daysAgo, int expected)
    {
        var check = Check(new CheckTerms("Heater", "Passes", FixtureKind.DrainMast, CabinPlace.Outside, every, 5, "LC-1"));
        var dues = Of([check], [Done(check, Position.Parse("DM"), Now - Duration.FromDays(daysAgo))]);

        // 100 minutes to departure and 24 hours: 1.0694 days.
        Assert.Equal(expected, dues.Count);
        Assert.Equal(expected == 1 && daysAgo > every, dues.Count == 1 && dues[0].IsOverdue(Now));
    }

    [Fact]
    public void NeverDone_CountsFromWhenItWasFirstAskedFor_OrTheTailCame()
    {
        var check = Check(new CheckTerms("Heater", "Passes", FixtureKind.DrainMast, CabinPlace.Outside, 10, 5, "LC-1"), Now - Duration.FromDays(11));
        var young = new Tail(Cabin.Tail, Registration.Parse("QQ-TSA"), Cabin.Layout.Id, [], Now.InUtc().Date.PlusDays(-3));

        Assert.Equal(Now - Duration.FromDays(1), Only(Of([check])).DueAt);
        Assert.Empty(CheckDues.Of(Situation([check]) with { Tail = young }, Now));
    }

    [Fact]
    public void EachFixtureOfTheKind_IsDueForItself()
    {
        var check = Check(new CheckTerms("Sinks", "Clean", FixtureKind.GalleySink, CabinPlace.Galley, 0, 2, "LC-1"));

        Assert.Equal(["K-2"], Of([check], [Done(check, Position.Parse("K-1"), Now)]).Select(due => due.Fixture!.Position.Value));
    }

    [Fact]
    public void Conditions_OfLayoutStayAndCold_AllHold()
    {
        CheckTerms plain = new("Drain", "Empty", null, CabinPlace.Outside, 0, 10, "Manual");

        Assert.Empty(Of([Check(plain with { Layout = "T2" })]));
        Assert.Single(Of([Check(plain with { Layout = "T1" })]));
        Assert.Empty(Of([Check(plain with { StayOverMinutes = 120 })]));
        Assert.Single(Of([Check(plain with { StayOverMinutes = 119 })]));
        Assert.Empty(Of([Check(plain with { BelowCelsius = 2 })]));
        Assert.Empty(CheckDues.Of(Situation([Check(plain with { BelowCelsius = 2 })]) with { Coldest = Told(2) }, Now));
        Assert.Equal(CheckReason.Cold, Only(CheckDues.Of(Situation([Check(plain with { BelowCelsius = 2 })]) with { Coldest = Told(1) }, Now)).Reason);
        Assert.Empty(CheckDues.Of(Situation([Check(plain)]) with { Stay = null }, Now));
    }

    [Fact]
    public void Cold_GoesBeforeWhatIsOverdue()
    {
        var (late, cold) = (Check(new CheckTerms("Late", "Look", null, CabinPlace.Outside, 1, 5, "LC-1"), Now - Duration.FromDays(9)), Check(new CheckTerms("Drain", "Empty", null, CabinPlace.Outside, 0, 10, "Manual", BelowCelsius: 2)));

        Assert.Equal(["Drain", "Late"], CheckDues.Of(Situation([late, cold]) with { Coldest = Told(-5) }, Now).Select(due => due.Check.Terms.Title));
    }

    /// <summary>A job that opened the strainer counts as its cleaning; a sink whose pours are slow, or fall to slow before the interval ends, calls for it early; pours from before it was opened do not.</summary>
    [Fact]
    public void Cleaning_HearsJobsAndPours()
    {
        var check = Check(new CheckTerms("Strainer", "Clean", FixtureKind.Strainer, CabinPlace.Galley, 30, 10, "Card", IsCleaning: true), Now - Duration.FromDays(40));
        var strainer = Position.Parse("S-1");

        Assert.Equal((CheckReason.Interval, true), Only(Of([check])) is var due ? (due.Reason, due.IsOverdue(Now)) : default);
        Assert.Empty(CheckDues.Of(Situation([check]) with { Opened = new Dictionary<Position, Instant> { [strainer] = Now - Duration.FromDays(2) } }, Now));

        var slow = new DrainCall(Now - Duration.FromHours(1), true, null);
        var opened = new Dictionary<Position, Instant> { [strainer] = Now - Duration.FromDays(2) };
        Assert.Equal((CheckReason.Pours, false), Only(Called(opened, Cabin.Sink, slow)) is var called ? (called.Reason, called.IsOverdue(Now)) : default);
        Assert.Empty(Called(opened, Position.Parse("K-2"), slow));
        Assert.Empty(Called(new Dictionary<Position, Instant> { [strainer] = Now - Duration.FromMinutes(30) }, Cabin.Sink, slow));
        Assert.Equal(Now + Duration.FromHours(20), Only(Called(opened, Cabin.Sink, slow with { IsSlow = false, Crosses = Now + Duration.FromHours(20) })).DueAt);
        Assert.Empty(Called(opened, Cabin.Sink, slow with { IsSlow = false, Crosses = Now + Duration.FromHours(48) }));

        IReadOnlyList<CheckDue> Called(Dictionary<Position, Instant> opened, Position at, DrainCall call) =>
            CheckDues.Of(Situation([check]) with { Opened = opened, Drains = new Dictionary<Position, DrainCall> { [at] = call } }, Now);
    }

    /// <summary>It stands past its estimate: its stay has lasted longer than planned, and a check for long stays is due.</summary>
    [Fact]
    public void AStayPastItsEstimate_IsAsLongAsItHasLasted()
    {
        var check = Check(new CheckTerms("Drain", "Empty", null, CabinPlace.Outside, 0, 10, "Manual", StayOverMinutes: 150));

        Assert.Empty(Of([check]));
        Assert.Single(CheckDues.Of(Situation([check]) with { Stay = StayOf(Now - Duration.FromHours(4)) }, Now));
    }

    /// <summary>An interval that is over is told, whether or not the tail has a stay that may take it.</summary>
    [Fact]
    public void Overdue_IsToldWithoutAStay()
    {
        var check = Check(new CheckTerms("Heater", "Passes", FixtureKind.DrainMast, CabinPlace.Outside, 10, 5, "LC-1", StayOverMinutes: 600), Now - Duration.FromDays(11));
        var without = Situation([check]) with { Stay = null };

        Assert.Empty(CheckDues.Of(without, Now));
        Assert.Equal(Now - Duration.FromDays(1), Only(CheckDues.Overdue(without, Now)).DueAt);
        Assert.Empty(CheckDues.Overdue(without with { Last = Situation([check], [Done(check, Position.Parse("DM"), Now)]).Last }, Now));
    }

    [Fact]
    public void TakenBack_IsDueAgain_AndTheOneBeforeCounts()
    {
        var check = Check(new CheckTerms("Panels", "Closed", null, CabinPlace.Outside, 0, 1, "LC-1"));
        var (first, second) = (Done(check, null, Now - Duration.FromDays(1)), Done(check, null, Now));
        Assert.Equal("no-reason", Cabin.Refused(second.TakeBack(" ", Cabin.Technician, Now)).Code);
        Cabin.Done(second.TakeBack("gloves", Cabin.Technician, Now));
        CheckDone.MarkNewest([first, second]);

        Assert.Equal((true, false), (first.IsNewest, second.IsNewest));
        Assert.Equal(first.At, Only(Of([check], [first, second])).LastAt);
        Assert.Equal("taken-back-before", Cabin.Refused(second.TakeBack("again", Cabin.Technician, Now)).Code);
    }

    [Fact]
    public void Record_RefusesWhatDoesNotFit_InWords()
    {
        var masts = Check(new CheckTerms("Masts", "Clean", FixtureKind.DrainMast, CabinPlace.Outside, 0, 1, "LC-1"));
        var whole = Check(new CheckTerms("Streaks", "None", null, CabinPlace.Outside, 0, 1, "LC-1"));
        var report = new Drainboard.Domain.Defects.ReportId(Cabin.NewId());

        Assert.Equal("no-such-position", Cabin.Refused(Record(masts, null, CheckOutcome.Good, null)).Code);
        Assert.Equal("no-such-position", Cabin.Refused(Record(masts, Cabin.Sink, CheckOutcome.Good, null)).Code);
        Assert.Equal("whole-aircraft", Cabin.Refused(Record(whole, Cabin.Sink, CheckOutcome.Good, null)).Code);
        Assert.Equal("finding", Cabin.Refused(Record(whole, null, CheckOutcome.Finding, null)).Code);
        Assert.Equal("finding", Cabin.Refused(Record(whole, null, CheckOutcome.Good, report)).Code);
        Assert.Equal("outcome", Cabin.Refused(Record(whole, null, (CheckOutcome)9, null)).Code);
        Assert.Equal("other-layout", Cabin.Refused(Record(Check(new CheckTerms("Streaks", "None", null, CabinPlace.Outside, 0, 1, "LC-1", Layout: "T2")), null, CheckOutcome.Good, null)).Code);
        Cabin.Done(Record(whole, null, CheckOutcome.Finding, report));
        Cabin.Done(Record(masts, Position.Parse("DM"), CheckOutcome.Good, null));
    }

    [Fact]
    public void Terms_ThatCannotBe_AreRefused_AndASaveIsTheNextVersion()
    {
        CheckTerms sound = new("Masts", "Clean", FixtureKind.DrainMast, CabinPlace.Outside, 0, 1, "LC-1");
        foreach (var (terms, code) in new[]
        {
            (sound with { Title = " " }, "check-title"), (sound with { Look = "" }, "check-look"), (sound with { Manual = "" }, "check-manual"), (sound with { EveryDays = -1 }, "check-days"), (sound with { Minutes = 0 }, "check-minutes"),
            (sound with { BelowCelsius = 16 }, "check-cold"), (sound with { StayOverMinutes = 2881 }, "check-stay"), (sound with { IsCleaning = true }, "check-cleaning-days"), (sound with { Kind = FixtureKind.Toilet, Place = CabinPlace.Lavatory, IsCleaning = true, EveryDays = 3 }, "check-cleaning"),
            (sound with { Place = CabinPlace.Galley }, "check-place"), (sound with { Caution = new string('x', 401) }, "check-caution"),
        })
        {
            Assert.Equal(code, terms.WhyNot()?.Code);
        }

        var first = Check(sound);
        Assert.Equal("check-unchanged", PlannedCheck.Save("c", sound, false, first, "x", Now, out _)?.Code);
        Assert.Null(PlannedCheck.Save("c", sound, true, first, "x", Now + Duration.FromDays(1), out var retired));
        Assert.Null(PlannedCheck.Save("c", sound, false, retired, "x", Now + Duration.FromDays(2), out var again));
        Assert.Equal((2, first.Since, 3, Now + Duration.FromDays(2)), (retired!.Number, retired.Since, again!.Number, again.Since));
        Assert.Empty(Of([retired]));
    }

    private static IReadOnlyList<CheckDue> Of(IReadOnlyList<PlannedCheck> checks, IReadOnlyList<CheckDone>? done = null) => CheckDues.Of(Situation(checks, done), Now);

    private static CheckDue Only(IReadOnlyList<CheckDue> dues) => Assert.Single(dues);

    private static CheckSituation Situation(IReadOnlyList<PlannedCheck> checks, IReadOnlyList<CheckDone>? done = null) => new(Tail, Cabin.Layout, checks, (done ?? []).Where(one => one.Counts).GroupBy(one => (one.Check, one.Position)).ToDictionary(alike => alike.Key, alike => alike.Max(one => one.At)), new Dictionary<Position, Instant>(), new Dictionary<Position, DrainCall>(), Stay, null);

    private static PlannedCheck Check(CheckTerms terms, Instant? since = null) => PlannedCheck.Save("c", terms, false, null, "x", since ?? Now - Duration.FromDays(400), out var made) is { } no ? throw new InvalidOperationException(no.Words) : made!;

    private static CheckDone Done(PlannedCheck check, Position? position, Instant at, CheckOutcome outcome = CheckOutcome.Good)
    {
        Cabin.Done(CheckDone.Record(new CheckDoneId(Cabin.NewId()), Tail, Cabin.Layout, check, position, outcome, null, at, Cabin.Technician, Now, out var made));
        return made!;
    }

    private static Decision Record(PlannedCheck check, Position? position, CheckOutcome outcome, Drainboard.Domain.Defects.ReportId? report) =>
        CheckDone.Record(new CheckDoneId(Cabin.NewId()), Tail, Cabin.Layout, check, position, outcome, report, Now, Cabin.Technician, Now, out _);

    /// <summary>On blocks 20 minutes ago and gone in 100; or on blocks then, and past its estimate.</summary>
    private static Visit StayOf(Instant? onBlocks)
    {
        var turn = new Turn(new TurnId(Cabin.NewId()), "T", Cabin.Tail, StationCode.Parse("QQAA"), new TurnTimes("1", onBlocks ?? (Now - Duration.FromMinutes(20)), onBlocks is null ? Now + Duration.FromMinutes(100) : onBlocks.Value + Duration.FromHours(1), onBlocks ?? (Now - Duration.FromMinutes(20)), null));
        return Visit.Of(turn, new Station(StationCode.Parse("QQAA"), "First", "Etc/UTC", [], LocalTime.Midnight, LocalTime.Midnight), DateTimeZone.Utc, Now, FitTerms.Usual);
    }

    private static StandTemperature Told(int celsius)
    {
        Cabin.Done(StandTemperature.Tell(new StandTemperatureId(Cabin.NewId()), new Station(StationCode.Parse("QQAA"), "First", "Etc/UTC", [], LocalTime.Midnight, LocalTime.Midnight), celsius, Now, null, Cabin.Technician, Now, out var made));
        return made!;
    }
}
