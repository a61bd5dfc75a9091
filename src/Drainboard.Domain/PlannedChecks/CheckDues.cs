using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.PlannedChecks;

/// <summary>
/// Which planned checks are due at a stay: worked out from what was done, never stored. Those that guard against cold come first, then by when
/// they are due. An interval counts from the last time that it was done, but never from before the check was first asked for and the tail joined the fleet.
/// </summary>
public static class CheckDues
{
    /// <summary>What falls due within this of the departure is done at the stay before: the next one may have no time for it (our choice).</summary>
    public static readonly Duration DueAhead = Duration.FromHours(24);

    /// <summary>What is done so shortly before the known arrival is of that stay: estimates are late at times (our choice; no flight is shorter).</summary>
    public static readonly Duration BeforeArrival = Duration.FromMinutes(30);

    public static IReadOnlyList<CheckDue> Of(CheckSituation situation, Instant now)
    {
        return
        [
            .. from check in situation.Checks
               where Applies(check, situation)
               from fixture in Fixtures(check, situation.Layout)
               let done = situation.Last.TryGetValue((check.Code, fixture?.Position), out var at) ? at : (Instant?)null
               let due = Due(check, fixture, done, situation, now)
               where due is not null
               orderby due.Reason == CheckReason.Cold descending, due.DueAt, due.Check.Terms.Place, due.Check.Terms.Minutes, due.Check.Code, due.Fixture?.Along, due.Fixture?.Position.Value
               select due,
        ];
    }

    /// <summary>What is over its interval, whether or not there is a stay that it may be done at. Checks against cold are left out: without cold they are not asked for.</summary>
    public static IReadOnlyList<CheckDue> Overdue(CheckSituation situation, Instant now)
    {
        return
        [
            .. from check in situation.Checks
               where IsFor(check, situation) && check.Terms is { EveryDays: > 0, IsForCold: false }
               from fixture in Fixtures(check, situation.Layout)
               let due = ByInterval(check, fixture, situation.Last.TryGetValue((check.Code, fixture?.Position), out var at) ? at : null, situation, now)
               where due.IsOverdue(now)
               orderby due.DueAt, due.Check.Code, due.Fixture?.Along, due.Fixture?.Position.Value
               select due,
        ];
    }

    private static bool IsFor(PlannedCheck check, CheckSituation situation) => !check.IsRetired && (check.Terms.Layout.Length == 0 || check.Terms.Layout == situation.Layout.Code);

    private static bool Applies(PlannedCheck check, CheckSituation situation) =>
        IsFor(check, situation)
        && situation.Stay is { } stay
        && (check.Terms.StayOverMinutes is not { } minutes || (stay.DepartsAt - stay.ArrivesAt).TotalMinutes > minutes)
        && (check.Terms.BelowCelsius is not { } celsius || situation.Coldest?.Celsius < celsius);

    private static IEnumerable<Fixture?> Fixtures(PlannedCheck check, CabinLayout layout) =>
        check.Terms.Kind is { } kind ? layout.Fixtures.Where(fixture => fixture.Kind == kind).Cast<Fixture?>() : [null];

    private static CheckDue? Due(PlannedCheck check, Fixture? fixture, Instant? done, CheckSituation situation, Instant now)
    {
        var (terms, stay) = (check.Terms, situation.Stay!);
        if (terms.EveryDays == 0)
        {
            return done >= stay.ArrivesAt - BeforeArrival ? null : new CheckDue(check, fixture, done, stay.DepartsAt, terms.IsForCold ? CheckReason.Cold : CheckReason.EveryStay);
        }

        var due = ByInterval(check, fixture, done, situation, now);
        return due.DueAt <= stay.DepartsAt + DueAhead ? due : null;
    }

    private static CheckDue ByInterval(PlannedCheck check, Fixture? fixture, Instant? done, CheckSituation situation, Instant now)
    {
        var terms = check.Terms;
        var opened = terms.IsCleaning && fixture is not null && situation.Opened.TryGetValue(fixture.Position, out var at) ? at : (Instant?)null;
        var last = done is null || opened > done ? opened ?? done : done;
        var begins = Begins(check, situation.Tail);
        var (due, reason) = ((last > begins ? last.Value : begins) + Duration.FromDays(terms.EveryDays), terms.IsForCold ? CheckReason.Cold : CheckReason.Interval);
        if (terms.IsCleaning && fixture is not null && CalledFor(fixture.Position, last, situation, now) is { } called && called < due)
        {
            (due, reason) = (called, CheckReason.Pours);
        }

        return new CheckDue(check, fixture, last, due, reason);
    }

    private static Instant Begins(PlannedCheck check, Tail tail) =>
        tail.DeliveredOn is { } day ? Instant.Max(check.Since, day.AtMidnight().InUtc().ToInstant()) : check.Since;

    /// <summary>When pours want it opened: at once where one is slow, at the crossing where they fall; pours from before it was last opened say nothing.</summary>
    private static Instant? CalledFor(Position at, Instant? last, CheckSituation situation, Instant now) =>
        situation.Through(at).Where(call => last is null || call.PouredAt > last).Select(call => call.IsSlow ? now : call.Crosses).Min();
}
