using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Records;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.Deferrals;

public sealed class DeferralTests
{
    [Fact]
    public void Deferral_WithEverythingThere_BeginsAndCountsFromTheLogEntry()
    {
        var (defect, deferral) = Cabin.Deferred(Category.C);

        Assert.Equal(DefectState.Deferred, defect.State);
        Assert.Equal(Instant.FromUtc(2026, 2, 6, 0, 0), deferral.DueAt);
        Assert.Equal(defect.Log!.LoggedAt, deferral.RecordedAt);
    }

    /// <summary>A cabin item may ask for no signature: it begins when its conditions are done, at the proposal if they are.</summary>
    [Fact]
    public void Propose_BasisThatAsksForNothingMore_BeginsAtOnce()
    {
        var defect = Cabin.Open();
        var asked = Cabin.Basis(Category.D);
        var free = new DeferralBasis(asked.Id, BasisKind.CabinItem, asked.Code, asked.Terms with { ControlRequired = false, CertifyingRequired = false });

        Cabin.Done(Cabin.Propose(defect, free, out var deferral));

        Assert.Equal((DefectState.Deferred, true), (defect.State, deferral!.IsRunning));
    }

    [Fact]
    public void Deferral_WithoutControl_DoesNotBegin()
    {
        var defect = Cabin.Open();
        Cabin.Done(Cabin.Propose(defect, Cabin.Basis(), out var deferral));
        Cabin.Done(deferral!.Certify(defect, [], LooseEnds.None, Cabin.Place, Cabin.Certifier, Cabin.Now));

        Assert.Equal(DefectState.Open, defect.State);
        Assert.Null(deferral.BeganAt);
        Assert.Equal(["control"], deferral.Missing().Select(missing => missing.Code));
    }

    [Fact]
    public void Certify_ConditionsNotDone_IsRefused()
    {
        var defect = Cabin.Open();
        var basis = Cabin.Basis(conditions: 2);
        Cabin.Done(Deferral.Propose(new DeferralId(Cabin.NewId()), defect, Cabin.Layout.Find(Cabin.Sink)!, Cabin.Layout, basis, DeferralPolicies.Us, DateTimeZone.Utc, [], null, null, new DeferralTerms(2, 1, [0], true, "above", ""), null, Drainboard.Domain.Records.LogMode.BesideLog, Cabin.Technician, Cabin.Now, out var deferral));

        Assert.Equal("not-prepared", Cabin.Refused(deferral!.Certify(defect, [], LooseEnds.None, Cabin.Place, Cabin.Certifier, Cabin.Now)).Code);
        Cabin.Done(deferral.Prepare(defect, [1], false, "", [], Cabin.Technician, Cabin.Now));
        Cabin.Done(deferral.Certify(defect, [], LooseEnds.None, Cabin.Place, Cabin.Certifier, Cabin.Now));
    }

    /// <summary>NASA ASRS ACN 1075833: relief that says "no leaks allowed" is not got round by another item; a leak is asked for apart from the slow drain.</summary>
    [Theory]
    [InlineData(LeakAnswer.Leaking, "leak-not-allowed")]
    [InlineData(LeakAnswer.DidNotLook, "leak-not-looked")]
    public void Propose_BasisAllowsNoLeak_IsRefusedUnlessSomebodyLookedAndSawNone(LeakAnswer leak, string code) =>
        Assert.Equal(code, Cabin.Refused(Cabin.Propose(Cabin.Open(leak), Cabin.Basis(leakAllowed: false), out _)).Code);

    /// <summary>F16 (rule from memory: 8900.1 Vol 4 Ch 4): B extended once by 3 days ends 2 February; a second extension is refused.</summary>
    [Fact]
    public void Extend_CategoryBOnceInTheUs_AddsThreeDaysAndNoMore()
    {
        var (defect, deferral) = Cabin.Deferred(Category.B);

        Cabin.Done(deferral.Extend(defect, 3, "Part on order.", "", [], Cabin.Controller, Cabin.Now));

        Assert.Equal(Instant.FromUtc(2026, 2, 2, 0, 0), deferral.DueAt);
        Assert.Equal("extended-before", Cabin.Refused(deferral.Extend(defect, 3, "Again.", "", [], Cabin.Controller, Cabin.Now)).Code);
    }

    /// <summary>ORO.MLR.105(f): one extension of B, C and D, no longer than the interval in the MEL. E1 to E6.</summary>
    [Theory]
    [InlineData("E1", Category.B, null, 3, "2026-02-02")]
    [InlineData("E2", Category.B, null, 4, null)]
    [InlineData("E3", Category.C, null, 10, "2026-02-16")]
    [InlineData("E4", Category.D, null, 120, "2026-09-24")]
    [InlineData("E5", Category.A, 2, 1, null)]
    [InlineData("E6", Category.B, 2, 3, null)]
    public void Extend_UnderEu_FollowsTheRule(string vector, Category category, int? days, int extension, string? newEnd)
    {
        var (defect, deferral) = Cabin.Deferred(category, DeferralPolicies.Eu, days);
        var decision = deferral.Extend(defect, extension, "Beyond our control.", "", [], Cabin.Controller, Cabin.Now);

        if (newEnd is null)
        {
            Assert.True(decision is Decision.Refused { Refusal.Code: "extension-too-long" or "not-extendable" }, vector);
        }
        else
        {
            Assert.Equal(NodaTime.Text.LocalDatePattern.Iso.Parse(newEnd).Value.AtMidnight().InUtc().ToInstant(), deferral.DueAt);
        }
    }

    /// <summary>ORO.MLR.105(e)(3): no operation after expiry; and our rule that the lapse is tested at its first instant.</summary>
    [Fact]
    public void Extend_AfterTheLapse_IsRefused()
    {
        var (defect, deferral) = Cabin.Deferred(Category.B);

        Assert.Equal("lapsed", Cabin.Refused(deferral.Extend(defect, 3, "Late.", "", [], Cabin.Controller, deferral.DueAt!.Value)).Code);
    }

    /// <summary>R6: AMC M.A.403(d): the original date is kept when a defect is deferred again; the clock does not start anew.</summary>
    [Fact]
    public void Propose_AgainAfterEnding_KeepsTheOriginalDate()
    {
        var (defect, deferral) = Cabin.Deferred(Category.C);
        var later = Cabin.Now + Duration.FromDays(5);
        Cabin.Done(deferral.End(defect, "Condition no longer held.", later));

        Cabin.Done(Cabin.Propose(defect, Cabin.Basis(Category.C), out var again, later));

        Assert.Equal(deferral.RecordedAt, again!.RecordedAt);
    }

    [Fact]
    public void Propose_AgainAfterTheOriginalIntervalIsOver_IsRefused()
    {
        var (defect, deferral) = Cabin.Deferred(Category.B);
        var later = Cabin.Now + Duration.FromDays(6);
        Cabin.Done(deferral.End(defect, "Lapsed at an outstation.", later));

        // domain.md: after a lapse, re-deferral is refused, also under an item with a longer interval.
        Assert.Equal("lapsed", Cabin.Refused(Cabin.Propose(defect, Cabin.Basis(Category.C), out _, later)).Code);
    }

    [Fact]
    public void Certify_AfterTheIntervalIsOver_DoesNotBeginALapsedDeferral()
    {
        var defect = Cabin.Open();
        Cabin.Done(Cabin.Propose(defect, Cabin.Basis(Category.B), out var deferral));
        Cabin.Done(deferral!.Authorise(defect, "MC-1", [], Cabin.Controller, Cabin.Now));
        var later = Cabin.Now + Duration.FromDays(5);

        Assert.Equal("would-have-lapsed", Cabin.Refused(deferral.Certify(defect, [], LooseEnds.None, Cabin.Place, Cabin.Certifier, later)).Code);
        Assert.Equal(DefectState.Open, defect.State);
    }

    [Fact]
    public void Certify_Twice_IsRefusedAndKeepsTheFirstSignature()
    {
        var defect = Cabin.Open();
        Cabin.Done(Cabin.Propose(defect, Cabin.Basis(), out var deferral));
        Cabin.Done(deferral!.Certify(defect, [], LooseEnds.None, Cabin.Place, Cabin.Certifier, Cabin.Now));

        Assert.Equal("signed-before", Cabin.Refused(deferral.Certify(defect, [], LooseEnds.None, Cabin.Place, Cabin.Technician, Cabin.Now)).Code);
        Assert.Equal("Cert", deferral.Certified!.Name);
    }

    /// <summary>A leak that shows while a "no leak" item is carried ends the deferral: the item no longer covers it.</summary>
    [Fact]
    public void AnswerLeak_OnADeferralThatAllowsNone_EndsIt()
    {
        var (defect, deferral) = Cabin.Deferred();

        Cabin.Done(defect.AnswerLeak(LeakAnswer.Leaking, "at the trap", deferral, Cabin.Now));

        Assert.Equal((DefectState.Open, false), (defect.State, deferral.IsRunning));
    }

    [Fact]
    public void MergeInto_OfALeakingReport_CarriesTheLeakOver()
    {
        var other = Cabin.Open();
        Cabin.Done(Cabin.Reported(LeakAnswer.Leaking).MergeInto(other, Cabin.Log(Cabin.Now), LogMode.BesideLog, Cabin.Now));

        Assert.Equal((LeakAnswer.Leaking, "at the trap"), (other.Leak, other.LeakWhere));
    }

    [Fact]
    public void RecordWork_OnALapsedDeferral_IsDone()
    {
        var (defect, deferral) = Cabin.Deferred(Category.B);
        var later = deferral.DueAt!.Value + Duration.FromDays(1);

        Cabin.Done(Cabin.RecordWork(defect, out _, at: later));

        Assert.Equal(DefectState.WorkDone, defect.State);
    }

    /// <summary>F15: 14 CFR 121.628(b)(2): what an airworthiness directive requires to be operable is carried under no MEL item.</summary>
    [Fact]
    public void Propose_OfWhatADirectiveRequiresOperable_IsRefused()
    {
        var basis = Cabin.Basis();
        var withdrawn = new DeferralBasis(basis.Id, basis.Kind, basis.Code, basis.Terms with { RequiredOperableBy = "AD (invented) 2026-01-01" });

        Assert.Equal("required-operable", Cabin.Refused(Cabin.Propose(Cabin.Open(), withdrawn, out _)).Code);
    }

    /// <summary>FAA NEF guidance (NBAA's quotation of GC-138): items that are only dirty or soiled are no furnishings deferral.</summary>
    [Fact]
    public void Propose_OfWhatIsOnlySoiled_AsAFurnishing_IsRefused()
    {
        var basis = Cabin.Basis(Category.D);
        var furnishing = new DeferralBasis(basis.Id, BasisKind.CabinItem, basis.Code, basis.Terms);
        var terms = new DeferralTerms(2, 1, [0], true, "above", "", OnlySoiled: true);

        var decision = Deferral.Propose(new DeferralId(Cabin.NewId()), Cabin.Open(), Cabin.Layout.Find(Cabin.Sink)!, Cabin.Layout, furnishing, DeferralPolicies.Us, DateTimeZone.Utc, [], null, null, terms, null, Drainboard.Domain.Records.LogMode.BesideLog, Cabin.Technician, Cabin.Now, out _);

        Assert.Equal("only-soiled", Cabin.Refused(decision).Code);
    }

    /// <summary>A policy that was only partly read counts nothing until the operator sets the rest: Hong Kong's time base was not read.</summary>
    [Fact]
    public void Propose_UnderAPolicyWithAFieldYetToSet_IsRefusedByItsName()
    {
        var refusal = Cabin.Refused(Cabin.Propose(Cabin.Open(), Cabin.Basis(Category.B), out _, policy: DeferralPolicies.Hk));

        Assert.Equal("set-by-operator", refusal.Code);
        Assert.Contains("timeBase", refusal.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Begin_WithALikeDeferralJustEnded_WaitsForControlWhateverTheBasisAsks()
    {
        var defect = Cabin.Open();
        var asked = Cabin.Basis();
        var free = new DeferralBasis(asked.Id, BasisKind.CabinItem, asked.Code, asked.Terms with { ControlRequired = false, CertifyingRequired = false });

        Cabin.Done(Deferral.Propose(new DeferralId(Cabin.NewId()), defect, Cabin.Layout.Find(Cabin.Sink)!, Cabin.Layout, free, DeferralPolicies.Us, DateTimeZone.Utc, [], new DeferralId(Cabin.NewId()), null, new DeferralTerms(2, 1, [0], true, "above", ""), null, Drainboard.Domain.Records.LogMode.BesideLog, Cabin.Technician, Cabin.Now, out var deferral));

        Assert.Equal(["control"], deferral!.Missing().Select(missing => missing.Code));
        Cabin.Done(deferral.Authorise(defect, "MC-2", [], Cabin.Controller, Cabin.Now));
        Assert.True(deferral.IsRunning);
    }

    /// <summary>8900.1 Vol 4 Ch 4 (from memory): the inspector is told within 24 hours of an extension.</summary>
    [Fact]
    public void RecordNotice_AfterAnExtension_IsDueInTwentyFourHoursAndIsDoneOnce()
    {
        var (defect, deferral) = Cabin.Deferred(Category.C);
        Cabin.Done(deferral.Extend(defect, 2, "Part on order.", "", [], Cabin.Controller, Cabin.Now));

        Assert.Equal(Cabin.Now + Duration.FromHours(24), deferral.AwaitingNotice!.NotifyBy);
        Cabin.Done(deferral.RecordNotice(defect, "letter 7", Cabin.Controller, Cabin.Now));
        Assert.Equal("nothing-to-tell", Cabin.Refused(deferral.RecordNotice(defect, "letter 8", Cabin.Controller, Cabin.Now)).Code);
    }

    /// <summary>TC TP 9155 3.12: within one working day; from a Friday that is the end of Monday.</summary>
    [Fact]
    public void Deadline_OneWorkingDayFromAFriday_IsTheEndOfMonday() =>
        Assert.Equal(Instant.FromUtc(2026, 2, 3, 0, 0), new NotifyRule(null, 1).Deadline(Instant.FromUtc(2026, 1, 30, 15, 0), DateTimeZone.Utc));

    [Fact]
    public void DoCondition_EveryThreeDays_MovesItsOwnDueTime()
    {
        var (defect, deferral) = Cabin.Deferred(repeatEvery: 3);
        Assert.Equal(Instant.FromUtc(2026, 1, 30, 0, 0), deferral.Conditions[0].DueAt(DateTimeZone.Utc));

        Cabin.Done(deferral.DoCondition(defect, 0, Cabin.Technician, Cabin.Now + Duration.FromDays(2)));

        Assert.Equal(Instant.FromUtc(2026, 2, 1, 0, 0), deferral.Conditions[0].DueAt(DateTimeZone.Utc));
    }

    [Theory]
    [InlineData(-10, true)]
    [InlineData(10, false)]
    public void IsDueBefore_EachDeparture_AsksWhetherItWasDoneSinceTheArrival(int minutesAfterArrival, bool due)
    {
        var arrival = Cabin.Now;
        var done = new ConditionDone(ConditionKind.Operational, "Lavatory checked.", "Crew", arrival + Duration.FromMinutes(minutesAfterArrival), null, EachDeparture: true);

        Assert.Equal(due, done.IsDueBefore(arrival + Duration.FromHours(1), arrival, DateTimeZone.Utc));
    }

    /// <summary>A flown sector is corrected: the clock in flight hours is derived anew, and the fact says from when to when it moved.</summary>
    [Fact]
    public void Rederive_AfterACorrectedFlight_MovesTheClockAndSaysSo()
    {
        var defect = Cabin.Open();
        var asked = Cabin.Basis(Category.A);
        var basis = new DeferralBasis(asked.Id, asked.Kind, asked.Code, asked.Terms with { Limits = [new ClockLimit(ClockUnit.FlightHours, 3, null)] });
        ClockSector[] Flights(int minutes) => [Flight(1, 2, minutes), Flight(6, 2, 120)];
        Cabin.Done(Deferral.Propose(new DeferralId(Cabin.NewId()), defect, Cabin.Layout.Find(Cabin.Sink)!, Cabin.Layout, basis, DeferralPolicies.Us, DateTimeZone.Utc, Flights(120), null, null, new DeferralTerms(2, 1, [0], true, "above", ""), null, Drainboard.Domain.Records.LogMode.BesideLog, Cabin.Technician, Cabin.Now, out var deferral));
        Cabin.Done(deferral!.Authorise(defect, "", Flights(120), Cabin.Controller, Cabin.Now));
        Cabin.Done(deferral.Certify(defect, Flights(120), LooseEnds.None, Cabin.Place, Cabin.Certifier, Cabin.Now));
        Assert.Equal(Cabin.Now + Duration.FromHours(7), deferral.DueAt);

        var moved = deferral.Rederive(defect, Flights(90));

        Assert.Equal(Cabin.Now + Duration.FromHours(7.5), deferral.DueAt);
        Assert.Contains("before", moved!.Words, StringComparison.Ordinal);
        Assert.Null(deferral.Rederive(defect, Flights(90)));
    }

    /// <summary>Ten flight hours, nine flown, deferred anew: one is left. The count begins with the first deferral of the defect.</summary>
    [Fact]
    public void Propose_AgainUnderFlightHours_DoesNotStartThemAnew()
    {
        var asked = Cabin.Basis(Category.A);
        var basis = new DeferralBasis(asked.Id, asked.Kind, asked.Code, asked.Terms with { Limits = [new ClockLimit(ClockUnit.FlightHours, 10, null)] });
        ClockSector[] flights = [Flight(1, 9, 540), Flight(20, 5, 300)];
        var again = Cabin.Now + Duration.FromHours(15);

        Cabin.Done(Deferral.Propose(new DeferralId(Cabin.NewId()), Cabin.Open(), Cabin.Layout.Find(Cabin.Sink)!, Cabin.Layout, basis, DeferralPolicies.Us, DateTimeZone.Utc, flights, null, Cabin.Now, new DeferralTerms(2, 1, [0], true, "above", ""), null, Drainboard.Domain.Records.LogMode.BesideLog, Cabin.Technician, again, out var deferral));

        Assert.Equal(Cabin.Now + Duration.FromHours(21), deferral!.ReadClock(flights)!.DueAt);
    }

    /// <summary>ORO.MLR.105(e): an operator's interval is none less restrictive than the category's.</summary>
    [Fact]
    public void Propose_WithAnIntervalLongerThanTheCategory_IsRefused() =>
        Assert.Equal("less-restrictive", Cabin.Refused(Cabin.Propose(Cabin.Open(), Cabin.Basis(Category.B, days: 30), out _)).Code);

    private static ClockSector Flight(int afterHours, int blockHours, int minutes) =>
        ClockSector.Of(Cabin.Now + Duration.FromHours(afterHours), Cabin.Now + Duration.FromHours(afterHours + blockHours), Duration.FromMinutes(minutes));
}
