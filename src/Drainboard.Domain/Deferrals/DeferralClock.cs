using NodaTime;
using NodaTime.Text;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// Works out when a deferral lapses. The day of the log entry is day zero; the interval is whole calendar days after it in
/// the policy's zone, so a day that daylight saving makes 23 or 25 hours long is still one day. The end is the start of the day after the
/// last one (in a zone where that midnight does not exist, its first instant).
/// </summary>
public static class DeferralClock
{
    private static readonly ZonedDateTimePattern Moment = ZonedDateTimePattern.CreateWithInvariantCulture("ddd d MMM uuuu HH:mm x", DateTimeZoneProviders.Tzdb);
    private static readonly LocalDatePattern Day = LocalDatePattern.CreateWithInvariantCulture("ddd d MMM uuuu");

    /// <summary>The days that the clock would run, or the refusal that says what the operator has yet to set.</summary>
    public static Refusal? WhyNot(DeferralPolicy policy, Category category, int? intervalDays, Instant? fixedEnd = null) =>
        intervalDays is <= 0
            ? new Refusal("no-interval", "An interval is at least one day.")
        : intervalDays is null && policy.Days.For(category) is null && fixedEnd is null
            ? new Refusal("no-interval", category == Category.A
                ? "Category A has its interval in the item's remarks, and this item gives none in days. Enter it with the item on Set-up."
                : $"The policy \"{policy.Name}\" leaves the days of category {category} to the operator. Set them first.")
        : null;

    /// <exception cref="ArgumentException">There is no interval; ask <see cref="WhyNot"/> first.</exception>
    public static ClockReading Read(ClockQuestion ask)
    {
        var policy = ask.Policy;
        var zone = policy.TimeBase == TimeBase.Utc ? DateTimeZone.Utc : ask.Zone;
        var recorded = ask.RecordedAt.InZone(zone);
        var firstDay = recorded.Date.PlusDays(1);
        var startsAt = zone.AtStartOfDay(firstDay).ToInstant();
        if (policy.CalendarStart == CalendarStart.OneMinutePast)
        {
            startsAt += Duration.FromMinutes(1);
        }

        var interval = ask.IntervalDays ?? policy.Days.For(ask.Category);
        if (interval is null && ask.FixedEnd is null)
        {
            throw new ArgumentException("Ask WhyNot before reading a clock.", nameof(ask));
        }

        var days = (interval ?? 0) + ask.ExtensionDays;
        var byDays = interval is null ? Instant.MaxValue : zone.AtStartOfDay(firstDay.PlusDays(days)).ToInstant();
        var due = ask.FixedEnd is { } end ? Instant.Min(end, byDays) : byDays;
        return new ClockReading(startsAt, due, days, zone, Explain(ask, zone, recorded, firstDay, startsAt, due, interval));
    }

    private static List<ClockStep> Explain(ClockQuestion ask, DateTimeZone zone, ZonedDateTime recorded, LocalDate firstDay, Instant startsAt, Instant due, int? interval)
    {
        var policy = ask.Policy;
        var steps = new List<ClockStep>
        {
            new($"Recorded {Moment.Format(recorded)}. Days are counted in {(policy.TimeBase == TimeBase.Utc ? "UTC" : zone.Id)}.", Cite(policy, "timeBase")),
            new($"The day of the entry, {Day.Format(recorded.Date)}, does not count. The first day is {Day.Format(firstDay)}, from {Moment.Format(startsAt.InZone(zone))}.", Cite(policy, "calendarStart")),
        };
        if (interval is { } days)
        {
            steps.Add(ask.IntervalDays is null
                ? new($"Category {ask.Category}: {days} consecutive calendar days.", Cite(policy, "days"))
                : new($"The item itself gives {days} calendar day{(days == 1 ? "" : "s")}.", "the operator's item"));
        }

        if (ask.ExtensionDays > 0)
        {
            steps.Add(new($"Extended by {ask.ExtensionDays} days.", Cite(policy, "extendable")));
        }

        if (ask.FixedEnd is { } end)
        {
            steps.Add(new($"The item gives a fixed end, {Moment.Format(end.InZone(zone))}; whichever comes first.", "the operator's item"));
        }

        var run = due - startsAt;
        var wholeDays = Duration.FromDays((interval ?? 0) + ask.ExtensionDays);
        if (ask.FixedEnd is null && policy.CalendarStart == CalendarStart.Midnight && run != wholeDays)
        {
            steps.Add(new($"The clocks change in between: these days last {(int)run.TotalHours} hours, not {(int)wholeDays.TotalHours}.", "our arithmetic"));
        }

        steps.Add(new($"It lapses {Moment.Format(due.InZone(zone))} ({InstantPattern.General.Format(due)}).", "our arithmetic"));
        return steps;
    }

    private static string Cite(DeferralPolicy policy, string field)
    {
        var source = policy.SourceOf(field);
        return $"{source.Source} ({source.Verification})";
    }
}
