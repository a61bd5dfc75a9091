using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;

namespace Drainboard.Domain.Tests.Turns;

public sealed class VisitPlanTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 1, 26, 10, 0);
    private static readonly Station Able = new(StationCode.Parse("QQAA"), "First", "Etc/UTC", ["drains", "toilets"], LocalTime.Midnight, LocalTime.Midnight);
    private static readonly Station DayOnly = new(StationCode.Parse("QQBB"), "Second", "America/New_York", ["drains"], new LocalTime(6, 0), new LocalTime(22, 0));
    private static readonly Station Unable = new(StationCode.Parse("QQCC"), "Third", "Etc/UTC", ["potable"], LocalTime.Midnight, LocalTime.Midnight);

    [Fact]
    public void LastThatCanTake_IsTheLastAbleStayBeforeTheLapse()
    {
        var plan = Plan((Able, 2, 4), (Able, 20, 22), (Unable, 30, 32), (Able, 60, 62));

        Assert.Equal(Now + Duration.FromHours(20), plan.LastThatCanTake(Drain(17), Now, Now + Duration.FromHours(48))?.ArrivesAt);
    }

    [Fact]
    public void LastThatCanTake_WithoutAnAbleStay_IsNone() =>
        Assert.Null(Plan((Unable, 2, 4), (Able, 60, 62)).LastThatCanTake(Drain(17), Now, Now + Duration.FromHours(48)));

    /// <summary>The stay begins before the lapse, and too little of it is left by then. The galleys are free from minute 27, when catering is through.</summary>
    [Fact]
    public void LastThatCanTake_WithTheLapseInsideTheStay_NeedsTheMinutesBeforeIt()
    {
        var plan = Plan((Able, 2, 6));

        Assert.Null(plan.LastThatCanTake(Drain(30), Now, Now + Duration.FromHours(2) + Duration.FromMinutes(56)));
        Assert.NotNull(plan.LastThatCanTake(Drain(30), Now, Now + Duration.FromHours(2) + Duration.FromMinutes(57)));
    }

    /// <summary>New York is five hours behind in January: a stay from 02:00 to 07:00 local has people from 06:00 on.</summary>
    [Fact]
    public void MinutesBetween_OutsideStaffedHours_CountsOnlyTheStaffedPart()
    {
        var turn = new Turn(default, "T", default, DayOnly.Code, new TurnTimes("1", Instant.FromUtc(2026, 1, 27, 7, 0), Instant.FromUtc(2026, 1, 27, 12, 0), null, null));
        var visit = Visit.Of(turn, DayOnly, DateTimeZoneProviders.Tzdb[DayOnly.Zone], Now, FitTerms.Usual);

        // 06:00 to 07:00 local, less the last twelve minutes.
        Assert.Equal(48, visit.MinutesBetween(CabinPlace.Galley, Now, Instant.MaxValue));
    }

    /// <summary>A stay over several days: what counts is the stretch before the lapse, not the longest of the stay.</summary>
    [Fact]
    public void LastThatCanTake_InALongStay_TakesTheStretchBeforeTheLapse()
    {
        var turn = new Turn(default, "T", default, DayOnly.Code, new TurnTimes("1", Instant.FromUtc(2026, 1, 27, 1, 0), Instant.FromUtc(2026, 1, 29, 1, 0), null, null));
        var plan = new VisitPlan([Visit.Of(turn, DayOnly, DateTimeZoneProviders.Tzdb[DayOnly.Zone], Now, FitTerms.Usual)]);

        // 20:00 to 22:00 New York on the 26th, before the lapse at midnight there.
        Assert.NotNull(plan.LastThatCanTake(Drain(60), Now, Instant.FromUtc(2026, 1, 27, 5, 0)));
    }

    /// <summary>Past its estimate and not off blocks: the tail is still here.</summary>
    [Fact]
    public void From_WithAStayPastItsEstimate_KeepsIt()
    {
        var turn = new Turn(default, "T", default, Able.Code, new TurnTimes("1", Now - Duration.FromHours(3), Now - Duration.FromHours(1), Now - Duration.FromHours(3), null));

        Assert.Single(new VisitPlan([Visit.Of(turn, Able, DateTimeZone.Utc, Now, FitTerms.Usual)]).From(Now));
    }

    [Fact]
    public void Order_IsLapsedThenStrandedThenByDueTime()
    {
        var plan = Plan((Able, 20, 22));
        var lapsed = ClockOutlook.Of(Now - Duration.FromHours(1), Drain(17), plan, Now);
        var stranded = ClockOutlook.Of(Now + Duration.FromHours(40), new WorkNeed(Ability.DrainMasts, CabinPlace.Outside, 40), plan, Now);
        var soon = ClockOutlook.Of(Now + Duration.FromHours(30), Drain(17), plan, Now);
        var open = ClockOutlook.Of(null, Drain(17), plan, Now);

        Assert.Equal([lapsed, stranded, soon, open], new[] { open, soon, stranded, lapsed }.Order());
    }

    private static WorkNeed Drain(int minutes) => new(Ability.Drains, CabinPlace.Galley, minutes);

    private static VisitPlan Plan(params (Station Station, int FromHours, int ToHours)[] stays) => new(stays.Select(stay =>
        Visit.Of(new Turn(default, "T", default, stay.Station.Code, new TurnTimes("1", Now + Duration.FromHours(stay.FromHours), Now + Duration.FromHours(stay.ToHours), null, null)), stay.Station, DateTimeZoneProviders.Tzdb[stay.Station.Zone], Now, FitTerms.Usual)));
}
