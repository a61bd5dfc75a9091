using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// Works out when a deferral lapses: the category's whole calendar days, or the limits of a category A item, whichever comes first. The
/// end of a clock of days is the start of the day after the last one.
/// </summary>
public static class DeferralClock
{
    /// <summary>Why this cannot be counted or must not be extended so; null when <see cref="Read"/> has an answer.</summary>
    public static Refusal? WhyNot(ClockQuestion ask)
    {
        if (ask.IntervalDays is <= 0)
        {
            return new Refusal("no-interval", "An interval is at least one day.");
        }

        if (ask.Category != Category.A && ask.IntervalDays > ask.Policy.Days.For(ask.Category))
        {
            return new Refusal("less-restrictive", $"The item gives {ask.IntervalDays} days, more than category {ask.Category} has under \"{ask.Policy.Name}\" ({ask.Policy.Days.For(ask.Category)}). An operator's interval is never less restrictive (ORO.MLR.105(e)).");
        }

        if (ask.Limits.Count > 0 && ask.Category != Category.A)
        {
            return new Refusal("limits-of-a", $"Limits of their own belong to category A; {ask.Category} is counted in the policy's days.");
        }

        if (ask.Limits.Select(limit => limit.WhyNot()).FirstOrDefault(no => no is not null) is { } unsound)
        {
            return unsound;
        }

        return ask.Category == Category.A && ask.Ruling.Count == 0
            ? new Refusal("no-interval", "Category A has its interval in the item's remarks, and this item gives none. Enter it with the item on Set-up.")
            : ask.Extensions.Count == 0 ? null : WhyNotExtended(ask);
    }

    /// <summary>The hot path: the ends of a clock of whole days. Allocates nothing.</summary>
    /// <exception cref="ArgumentException">The policy leaves a field that this needs to the operator; see <see cref="DeferralPolicy.Blocking"/>.</exception>
    public static ClockTimes Times(DeferralPolicy policy, Category category, Instant recordedAt, DateTimeZone zone, int? intervalDays = null, int extensionDays = 0) =>
        (intervalDays ?? policy.Days.For(category)) is { } days && policy.ZoneOfDays(zone) is { } there && policy.ExcludesDayOfDiscovery is { } excludes && policy.CalendarStart is { } start
            ? CalendarDays.Count(recordedAt, there, days + extensionDays, excludes, start)
            : throw new ArgumentException($"The policy {policy.Name} is not complete.", nameof(policy));

    /// <exception cref="ArgumentException">There is no answer; ask <see cref="WhyNot"/> first.</exception>
    public static ClockReading Read(ClockQuestion ask)
    {
        if (WhyNot(ask) is { } no)
        {
            throw new ArgumentException(no.Words, nameof(ask));
        }

        return Recount(ask);
    }

    /// <summary>Counts again what was judged before and stands: a clock that runs is never refused its own end.</summary>
    /// <exception cref="ArgumentException">There is nothing to count.</exception>
    public static ClockReading Recount(ClockQuestion ask) =>
        ask.Category == Category.A && ask.Ruling.Count == 0
            ? throw new ArgumentException("Category A has no limit here.", nameof(ask))
            : Work(ask, ask.GrantedDays + ask.Extensions.Sum(extension => extension.Days));

    private static Refusal? WhyNotExtended(ClockQuestion ask)
    {
        var interval = ask.Ruling.Where(limit => limit.Unit == ClockUnit.CalendarDays).Select(limit => (int?)limit.Count).Min();
        var added = ask.GrantedDays;
        for (var before = 0; before < ask.Extensions.Count; before++)
        {
            var extension = ask.Extensions[before];
            var isUnset = ask.Policy.Extendable.For(ask.Category) is null || ask.Policy.MaxExtensions is null;
            if (!isUnset && ExtensionRule.WhyNot(ask.Policy, ask.Category, interval, before, extension.Days, extension.ApprovedAt is not null) is { } no)
            {
                return no;
            }

            var due = Work(ask, added).DueAt;
            if (due <= extension.RequestedAt || due <= extension.ApprovedAt)
            {
                return new Refusal("lapsed", $"Extension {before + 1} was asked for or approved at or after the lapse. A lapsed deferral is not extended (ORO.MLR.105(e)(3)).");
            }

            added += extension.Days;
        }

        return null;
    }

    private static ClockReading Work(ClockQuestion ask, int extensionDays)
    {
        var ruling = ask.Ruling;
        var unset = UnsetOf(ask, ruling);
        var results = ruling.Select(limit => (Limit: limit, Times: Count(ask, limit, extensionDays))).ToArray();
        var first = results.Where(result => result.Times.DueAt is not null).OrderBy(result => result.Times.DueAt).Select(result => ((ClockUnit?)result.Limit.Unit, result.Times.DueAt)).FirstOrDefault();
        var (binding, due) = unset.Count == 0 ? first : (null, null);
        var days = results.Where(result => result.Limit.Unit == ClockUnit.CalendarDays).Select(result => (int)result.Limit.Count!.Value + extensionDays).DefaultIfEmpty(0).Min();
        var counts = results.Where(result => result.Limit.Unit != ClockUnit.FixedDate).Select(result => new ClockCount(result.Limit.Unit, decimal.Round(result.Times.Used, 4), result.Limit.Count!.Value + (result.Limit.Unit == ClockUnit.CalendarDays ? extensionDays : 0))).ToArray();
        var starts = results.Select(result => result.Times.StartsAt).Where(at => at is not null).DefaultIfEmpty(null).Min();
        var steps = ClockWords.Explain(ask, results.Select(result => (result.Limit, result.Times.StartsAt, result.Times.DueAt)), extensionDays, unset, binding, due);
        return new ClockReading(starts, due, binding, days, counts, unset, steps);
    }

    private static List<string> UnsetOf(ClockQuestion ask, IReadOnlyList<ClockLimit> ruling)
    {
        var policy = ask.Policy;
        var inDays = ruling.Any(limit => limit.Unit is ClockUnit.CalendarDays or ClockUnit.FlightDays) || ruling.Count == 0;
        return
        [
            .. ruling.Count == 0 ? [PolicyFields.Days] : Array.Empty<string>(),
            .. policy.Unset.Where(field => field switch
            {
                PolicyFields.TimeBase or PolicyFields.DayOfDiscovery => inDays,
                PolicyFields.CalendarStart => ruling.Any(limit => limit.Unit == ClockUnit.CalendarDays),
                PolicyFields.CountedUnitStart => ruling.Any(limit => limit.Unit is ClockUnit.FlightHours or ClockUnit.FlightCycles),
                PolicyFields.Extendable => ask.Extensions.Count > 0 && policy.Extendable.For(ask.Category) is null,
                PolicyFields.MaxExtensions => ask.Extensions.Count > 0,
                _ => false,
            }),
        ];
    }

    /// <summary>One limit. What depends on a field that is not set yet stays null.</summary>
    private static CountedUnits.Result Count(ClockQuestion ask, ClockLimit limit, int extensionDays)
    {
        var policy = ask.Policy;

        // Where the time base is open and the place itself keeps UTC, either choice says the same.
        var zone = policy.ZoneOfDays(ask.Zone) ?? (ask.Zone.Equals(DateTimeZone.Utc) ? ask.Zone : null);
        var from = ask.DeferredAt ?? ask.RecordedAt;
        switch (limit.Unit)
        {
            case ClockUnit.CalendarDays when zone is not null && policy is { ExcludesDayOfDiscovery: { } excludes, CalendarStart: { } start }:
                var times = CalendarDays.Count(ask.RecordedAt, zone, (int)limit.Count!.Value + extensionDays, excludes, start);
                var used = ask.AsOf is { } asOf ? Period.DaysBetween(CalendarDays.FirstDay(ask.RecordedAt, zone, excludes), asOf.InZone(zone).Date) : 0;
                return new(times.StartsAt, times.DueAt, Math.Clamp(used, 0, (int)limit.Count.Value + extensionDays));
            case ClockUnit.FlightDays when zone is not null && policy.ExcludesDayOfDiscovery is { } excludes:
                return CountedUnits.FlightDays(ask.Sectors, CalendarDays.FirstDay(ask.RecordedAt, zone, excludes), zone, (int)limit.Count!.Value, ask.AsOf);
            case ClockUnit.FlightHours when policy.CountedUnitStart is { } start:
                return CountedUnits.FlightHours(ask.Sectors, from, start, limit.Count!.Value, ask.AsOf);
            case ClockUnit.FlightCycles when policy.CountedUnitStart is { } start:
                return CountedUnits.FlightCycles(ask.Sectors, from, start, (int)limit.Count!.Value, ask.AsOf);
            case ClockUnit.FixedDate:
                return new(ask.RecordedAt, limit.At, 0);
            default:
                return default;
        }
    }
}
