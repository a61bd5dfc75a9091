using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Tests.Situations;
using NodaTime;

namespace Drainboard.Domain.Tests.Defects;

public sealed class ReportTests
{
    /// <summary>The clock as it sent is held against ours: a report that waited ten hours on a sound tablet is not odd.</summary>
    [Theory]
    [InlineData(-600, 0, null)]
    [InlineData(-600, 4, null)]
    [InlineData(-600, 6, 6)]
    [InlineData(-2040, -1440, -1440)]
    public void Clock_AsItSent_IsOddBeyondFiveMinutes(int seen, int sent, int? off)
    {
        var report = Made(Cabin.Now + Duration.FromMinutes(seen), Cabin.Now + Duration.FromMinutes(sent));

        Assert.Equal(off, (int?)report.ClockOff?.TotalMinutes);
        Assert.Equal(Cabin.Now + Duration.FromMinutes(seen), report.SeenAt);
    }

    [Fact]
    public void Clock_NotTold_IsOddWhereItSawTheFuture()
    {
        Assert.Equal(Duration.FromHours(1), Made(Cabin.Now + Duration.FromHours(1), null).ClockOff);
        Assert.Null(Made(Cabin.Now - Duration.FromHours(1), null).ClockOff);
    }

    [Fact]
    public void Add_OfALeak_IsTakenOverAndEndsADeferralThatAllowsNone()
    {
        var (defect, deferral) = Cabin.Deferred();

        Cabin.Done(defect.Add(Cabin.Report(LeakAnswer.Leaking), deferral, Cabin.Now));

        Assert.Equal((LeakAnswer.Leaking, "at the trap", DefectState.Open), (defect.Leak, defect.LeakWhere, defect.State));
        Assert.NotNull(deferral.EndedAt);
    }

    [Fact]
    public void Add_SeenAndLoggedEarlier_MovesTheStartOfTheClockEarlierAndNeverLater()
    {
        var defect = Cabin.Open();
        var before = defect.RecordedAt;

        Cabin.Done(defect.Add(Cabin.Report(at: Cabin.Now - Duration.FromHours(2)), null, Cabin.Now));
        Assert.Equal(before - Duration.FromHours(2), defect.RecordedAt);
        Cabin.Done(defect.Add(Cabin.Report(at: Cabin.Now + Duration.FromHours(2)), null, Cabin.Now));
        Assert.Equal(before - Duration.FromHours(2), defect.RecordedAt);
    }

    [Fact]
    public void Add_ByAClockThatIsOff_OrOnADeferral_MovesNoTime()
    {
        var open = Cabin.Open();
        var odd = new Report(new ReportId(Cabin.NewId()), open.Id, Cabin.Tail, Cabin.Sighting(at: Cabin.Now - Duration.FromDays(400)) with { Log = null }, Cabin.Technician.Person, "Crew", Cabin.Now, new SendingDevice(null, Cabin.Now - Duration.FromDays(400)));
        var seen = open.SeenAt;
        Cabin.Done(open.Add(odd, null, Cabin.Now));
        Assert.Equal(seen, open.SeenAt);

        var (carried, deferral) = Cabin.Deferred();
        seen = carried.SeenAt;
        Cabin.Done(carried.Add(Cabin.Report(at: Cabin.Now - Duration.FromHours(3)), deferral, Cabin.Now));
        Assert.Equal(seen, carried.SeenAt);
    }

    [Fact]
    public void Add_OfAnotherSymptom_OrWithALogEntryOfAnotherYear_IsRefusedAndStandsByItself()
    {
        var other = new Report(new ReportId(Cabin.NewId()), new DefectId(Cabin.NewId()), Cabin.Tail, Cabin.Sighting() with { Symptom = Symptom.Overflows }, Cabin.Technician.Person, "Crew", Cabin.Now);
        var mistyped = new Report(new ReportId(Cabin.NewId()), new DefectId(Cabin.NewId()), Cabin.Tail, Cabin.Sighting() with { Log = Cabin.Log(Cabin.Now - Duration.FromDays(365)) }, Cabin.Technician.Person, "Crew", Cabin.Now);

        Assert.Equal("another-symptom", Cabin.Refused(Cabin.Open().Add(other, null, Cabin.Now)).Code);
        Assert.Equal("logged-before-seen", Cabin.Refused(Cabin.Open().Add(mistyped, null, Cabin.Now)).Code);
    }

    /// <summary>Seen again after the work was done: that is no more of the same, it opens its own and counts as a repeat.</summary>
    [Fact]
    public void Add_OnceTheWorkIsDone_IsRefused()
    {
        var defect = Cabin.Open();
        Cabin.Done(Cabin.RecordWork(defect, out _));

        Assert.Equal("not-from-this-state", Cabin.Refused(defect.Add(Cabin.Report(), null, Cabin.Now)).Code);
    }

    [Fact]
    public void Sighting_NamesOthersThatAreNoneOfTheLayout_IsRefused()
    {
        var sighting = Cabin.Sighting() with { Others = OthersToo.Others, AlsoAt = [Position.Parse("K-9")] };

        Assert.Equal("no-such-other", sighting.WhyNot(Cabin.Layout)!.Code);
        Assert.Equal("others-named", (sighting with { Others = OthersToo.OnlyThis }).WhyNot(Cabin.Layout)!.Code);
        Assert.Equal("offset", (Cabin.Sighting() with { OffsetMinutes = 841 }).WhyNot(Cabin.Layout)!.Code);
        Assert.Null((Cabin.Sighting() with { OffsetMinutes = 840 }).WhyNot(Cabin.Layout));
    }

    private static Report Made(Instant seen, Instant? sent) =>
        new(new ReportId(Cabin.NewId()), new DefectId(Cabin.NewId()), Cabin.Tail, Cabin.Sighting(at: seen), Cabin.Technician.Person, "Crew", Cabin.Now, new SendingDevice(new ActingDevice(Cabin.NewId(), "Tablet 1"), sent));
}
