using NodaTime;
using NodaTime.Text;

namespace Drainboard.Domain.Deferrals;

/// <summary>How a clock explains itself: step by step, each step with what it rests on.</summary>
internal static class ClockWords
{
    private const string OurArithmetic = "our arithmetic";
    private const string TheItem = "the operator's item";

    private static readonly ZonedDateTimePattern Moment = ZonedDateTimePattern.CreateWithInvariantCulture("ddd d MMM uuuu HH:mm x", DateTimeZoneProviders.Tzdb);
    private static readonly LocalDatePattern Day = LocalDatePattern.CreateWithInvariantCulture("ddd d MMM uuuu");

    public static IReadOnlyList<Explained> Explain(ClockQuestion ask, IEnumerable<(ClockLimit Limit, Instant? StartsAt, Instant? DueAt)> limits, int extensionDays, IReadOnlyList<string> unset, ClockUnit? binding, Instant? due)
    {
        var policy = ask.Policy;
        var zone = policy.ZoneOfDays(ask.Zone) ?? DateTimeZone.Utc;
        var steps = new List<Explained>
        {
            new($"Recorded {Moment.Format(ask.RecordedAt.InZone(zone))}: {StartWords(policy.StartsFrom)}.", Cite(policy, PolicyFields.StartsFrom)),
        };
        var all = limits.ToArray();
        if (all.Any(one => one.Limit.Unit is ClockUnit.CalendarDays or ClockUnit.FlightDays) && policy is { TimeBase: { } timeBase, ExcludesDayOfDiscovery: { } excludes })
        {
            var first = CalendarDays.FirstDay(ask.RecordedAt, zone, excludes);
            steps.Add(new($"Days are counted in {(timeBase == TimeBase.Utc ? "UTC" : zone.Id)}.", Cite(policy, PolicyFields.TimeBase)));
            steps.Add(new($"The day of the entry {(excludes ? "does not count" : "counts")}: the first day is {Day.Format(first)}.", Cite(policy, PolicyFields.DayOfDiscovery)));
        }

        foreach (var (limit, starts, ends) in all)
        {
            steps.AddRange(OfLimit(ask, limit, starts, ends, extensionDays, zone));
        }

        steps.AddRange(End(ask, all.Length, zone, unset, binding, due));
        return steps;
    }

    private static IEnumerable<Explained> OfLimit(ClockQuestion ask, ClockLimit limit, Instant? starts, Instant? ends, int extensionDays, DateTimeZone zone)
    {
        var policy = ask.Policy;
        switch (limit.Unit)
        {
            case ClockUnit.CalendarDays:
                yield return ask.IntervalDays is null && ask.Category != Category.A
                    ? new($"Category {ask.Category}: {limit.Count:0} consecutive calendar days{(starts is { } at ? $", from {Moment.Format(at.InZone(zone))}" : "")}.", Cite(policy, PolicyFields.Days))
                    : new($"The item itself gives {limit.Count:0} calendar day{(limit.Count == 1 ? "" : "s")}{(starts is { } own ? $", from {Moment.Format(own.InZone(zone))}" : "")}.", TheItem);
                if (extensionDays > 0)
                {
                    yield return new($"Extended by {extensionDays} days.", Cite(policy, PolicyFields.Extendable));
                }

                foreach (var step in Uneven(ask, (int)limit.Count!.Value + extensionDays, starts, ends, zone))
                {
                    yield return step;
                }

                break;
            case ClockUnit.FlightDays:
                yield return new($"The item gives {limit.Words}: days on which at least one flight of this aircraft is initiated. {Reached(limit, ends, zone)}", "FAA PL-25, definition of flight day (read)");
                break;
            case ClockUnit.FlightHours:
            case ClockUnit.FlightCycles:
                yield return new($"The item gives {limit.Words}, counted {(policy.CountedUnitStart == CountedUnitStart.NextFlight ? "from the next flight" : "from the moment of deferral")}. {Reached(limit, ends, zone)}", Cite(policy, PolicyFields.CountedUnitStart));
                if (limit.Unit == ClockUnit.FlightHours && ask.Sectors.Any(sector => sector.IsBlockTime))
                {
                    yield return new("Where a flight has no flight time, its block time stands for it.", OurArithmetic);
                }

                break;
            case ClockUnit.FixedDate:
                yield return new($"The item gives a fixed end, {Moment.Format(limit.At!.Value.InZone(zone))}.", TheItem);
                break;
        }
    }

    /// <summary>Days that are not 24 hours each, and dates that the zone skipped.</summary>
    private static IEnumerable<Explained> Uneven(ClockQuestion ask, int days, Instant? starts, Instant? ends, DateTimeZone zone)
    {
        if (starts is not { } from || ends is not { } to || ask.Policy.CalendarStart != CalendarStart.Midnight)
        {
            yield break;
        }

        var (hours, even) = ((to - from).TotalHours, days * 24);
        if (hours <= even - 20)
        {
            yield return new($"A date is skipped in {zone.Id} in between. It counts as it does on paper, and has no hours: these days last {hours:0} hours, not {even}.", OurArithmetic);
        }
        else if (Math.Abs(hours - even) > 0.01)
        {
            yield return new($"The clocks change in between: these days last {hours:0.##} hours, not {even}. Calendar days rule, not hours.", OurArithmetic);
        }
    }

    private static IEnumerable<Explained> End(ClockQuestion ask, int limits, DateTimeZone zone, IReadOnlyList<string> unset, ClockUnit? binding, Instant? due)
    {
        if (unset.Count > 0)
        {
            yield return new($"The policy \"{ask.Policy.Name}\" leaves to the operator: {string.Join(", ", unset)}. Until that is set no end can be given.", "set by operator");
        }
        else if (due is { } at)
        {
            var which = limits > 1 ? $" Whichever comes first: {binding!.Value.Words()}." : "";
            yield return new($"It lapses {Moment.Format(at.InZone(zone))} ({InstantPattern.General.Format(at)}).{which}", OurArithmetic);
        }
        else
        {
            yield return new("The flights known do not use it up. It stays open until more flights are known.", OurArithmetic);
        }
    }

    private static string Reached(ClockLimit limit, Instant? ends, DateTimeZone zone) =>
        ends is { } at ? $"The flights known use up {limit.Words} at {Moment.Format(at.InZone(zone))}." : "The flights known do not use it up.";

    private static string StartWords(ClockStart start) => start switch
    {
        ClockStart.Seen => "when it was seen",
        ClockStart.Saved => "when it was saved on the device",
        ClockStart.Logged => "the earliest log entry, or receipt while there is none",
        ClockStart.Received => "when it was received",
    };

    private static string Cite(DeferralPolicy policy, string field)
    {
        var source = policy.SourceOf(field);
        return $"{source.Source} ({source.Verification})";
    }
}
