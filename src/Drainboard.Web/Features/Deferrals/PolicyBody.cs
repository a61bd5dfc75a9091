using System.Text.Json;
using Drainboard.Domain.Deferrals;
using Drainboard.Web.Features.Door;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>
/// A policy as it is written in a question: a preset's name, or an object with intervalDays {b,c,d}, timeBase ("utc", "local" or an IANA zone),
/// dayOfDiscovery ("recordedAt" or "excluded": does not count; "counted"), calendarStart ("00:00", "00:01"), startsFrom, countedUnitStart ("deferral",
/// "nextFlight"), expiryTest ("departure", "arrival"), extendable {a,b,c,d} or a list, maxExtensions, maxExtension ("interval" or days), notifyWithin
/// ({hours}, {workingDays} or an ISO 8601 duration) and approvalBefore {a} or a list. What is left out or null is "set by operator".
/// </summary>
internal static class PolicyBody
{
    public static DeferralPolicy? Read(JsonElement body, Faults faults)
    {
        try
        {
            return ReadText(body, faults);
        }
        catch (InvalidOperationException)
        {
            // Half of a character (a lone surrogate): the parser takes it, and nothing can be made of it.
            faults.Add("policy", "Has text in it that is no text.");
            return null;
        }
    }

    private static DeferralPolicy? ReadText(JsonElement body, Faults faults)
    {
        if (body.ValueKind == JsonValueKind.String)
        {
            if (DeferralPolicies.Find(body.GetString()!.ToLowerInvariant()) is { } preset)
            {
                return preset;
            }

            faults.Add("policy", $"There is no preset \"{body.GetString()}\". The presets are {string.Join(", ", DeferralPolicies.Presets.Select(one => one.Name))}; or write the policy itself as an object.");
            return null;
        }

        if (body.ValueKind != JsonValueKind.Object)
        {
            faults.Add("policy", "Is the name of a preset, or an object with the policy's fields.");
            return null;
        }

        var policy = Empty;
        foreach (var member in body.EnumerateObject())
        {
            policy = With(policy, member, faults);
        }

        if (policy.WhyNot() is { } no)
        {
            faults.Add("policy", no.Words);
        }

        return policy;
    }

    private static DeferralPolicy Empty { get; } = new("given", 1, "As given", new PolicyDays(null, null, null), null, "", null, null, ClockStart.Logged, null, null, PerCategory.Unset, null, null, null, null, []);

    private static DeferralPolicy With(DeferralPolicy policy, JsonProperty member, Faults faults)
    {
        var (path, value) = ($"policy.{member.Name}", member.Value);
        if (value.ValueKind == JsonValueKind.Null)
        {
            return policy;
        }

        var known = policy with
        {
            Sources = [.. policy.Sources, new PolicySource(Named(member.Name), "the policy as given", "the asker")],
        };
        return Named(member.Name) switch
        {
            PolicyFields.Days => known with { Days = Days(value, path, faults) },
            PolicyFields.TimeBase => Base(known, value, path, faults),
            PolicyFields.DayOfDiscovery => known with { ExcludesDayOfDiscovery = Choice(value, path, faults, ("recordedAt", true), ("excluded", true), ("counted", false)) },
            PolicyFields.CalendarStart => known with { CalendarStart = Choice(value, path, faults, ("00:00", CalendarStart.Midnight), ("00:01", CalendarStart.OneMinutePast)) },
            PolicyFields.StartsFrom => known with { StartsFrom = Choice(value, path, faults, ("logged", ClockStart.Logged), ("seen", ClockStart.Seen), ("saved", ClockStart.Saved), ("received", ClockStart.Received)) ?? ClockStart.Logged },
            PolicyFields.CountedUnitStart => known with { CountedUnitStart = Choice(value, path, faults, ("deferral", CountedUnitStart.Deferral), ("nextFlight", CountedUnitStart.NextFlight)) },
            PolicyFields.ExpiryTest => known with { ExpiryTest = Choice(value, path, faults, ("departure", ExpiryTest.Departure), ("arrival", ExpiryTest.Arrival)) },
            PolicyFields.Extendable => known with { Extendable = Categories(value, path, faults) },
            PolicyFields.MaxExtensions => known with { MaxExtensions = Whole(value, path, faults) },
            PolicyFields.MaxExtension => known with { MaxExtensionDays = value.ValueKind == JsonValueKind.String && value.GetString() == "interval" ? null : Whole(value, path, faults) },
            PolicyFields.NotifyWithin => known with { NotifyWithin = Notify(value, path, faults) },
            PolicyFields.ApprovalBefore => known with { ApprovalBeforeA = Categories(value, path, faults).A },
            _ => Unknown(policy, path, faults),
        };
    }

    private static string Named(string name) => name.Length == 0 ? name : char.ToLowerInvariant(name[0]) + name[1..];

    private static DeferralPolicy Unknown(DeferralPolicy policy, string path, Faults faults)
    {
        faults.Add(path, "A policy has no such field.");
        return policy;
    }

    private static DeferralPolicy Base(DeferralPolicy policy, JsonElement value, string path, Faults faults)
    {
        var text = value.ValueKind == JsonValueKind.String ? value.GetString()! : "";
        if (text.Equals("utc", StringComparison.OrdinalIgnoreCase) || text.Equals("local", StringComparison.OrdinalIgnoreCase))
        {
            return policy with { TimeBase = text.Equals("utc", StringComparison.OrdinalIgnoreCase) ? TimeBase.Utc : TimeBase.Local };
        }

        if (DateTimeZoneProviders.Tzdb.GetZoneOrNull(text) is null)
        {
            faults.Add(path, $"Is \"utc\", \"local\" or an IANA time zone such as Europe/Lisbon, not \"{text}\".");
        }

        return policy with { TimeBase = TimeBase.OperatorZone, OperatorZone = text };
    }

    private static PolicyDays Days(JsonElement value, string path, Faults faults)
    {
        var days = new PolicyDays(null, null, null);
        if (value.ValueKind != JsonValueKind.Object)
        {
            faults.Add(path, "Is an object with b, c and d.");
            return days;
        }

        foreach (var member in value.EnumerateObject())
        {
            var (at, count) = ($"{path}.{member.Name}", member.Value.ValueKind == JsonValueKind.Null ? null : Whole(member.Value, $"{path}.{member.Name}", faults));
            switch (member.Name.ToLowerInvariant())
            {
                case "b": days = days with { B = count }; break;
                case "c": days = days with { C = count }; break;
                case "d": days = days with { D = count }; break;
                case "a" when count is null: break;
                default: faults.Add(at, "Days are given for b, c and d; category A has its own in the item's limits."); break;
            }
        }

        return days;
    }

    private static PerCategory Categories(JsonElement value, string path, Faults faults)
    {
        var all = PerCategory.Unset;
        if (value.ValueKind == JsonValueKind.Array)
        {
            var named = value.EnumerateArray().Select(one => one.ToString().ToUpperInvariant()).ToArray();
            if (named.Any(one => one is not ("A" or "B" or "C" or "D")))
            {
                faults.Add(path, "Lists categories: A, B, C or D.");
            }

            return new PerCategory(named.Contains("A"), named.Contains("B"), named.Contains("C"), named.Contains("D"));
        }

        foreach (var member in value.ValueKind == JsonValueKind.Object ? value.EnumerateObject() : default)
        {
            bool? yes = member.Value.ValueKind switch { JsonValueKind.True => true, JsonValueKind.False => false, _ => null };
            if (yes is null && member.Value.ValueKind != JsonValueKind.Null)
            {
                faults.Add($"{path}.{member.Name}", "Is true, false or null.");
            }

            all = member.Name.ToLowerInvariant() switch { "a" => all with { A = yes }, "b" => all with { B = yes }, "c" => all with { C = yes }, "d" => all with { D = yes }, _ => Odd(all, $"{path}.{member.Name}", faults) };
        }

        if (value.ValueKind != JsonValueKind.Object)
        {
            faults.Add(path, "Is an object with a, b, c and d (true, false or null), or a list of categories.");
        }

        return all;
    }

    private static PerCategory Odd(PerCategory all, string path, Faults faults)
    {
        faults.Add(path, "Categories are a, b, c and d.");
        return all;
    }

    private static NotifyRule? Notify(JsonElement value, string path, Faults faults)
    {
        if (value.ValueKind == JsonValueKind.String && PeriodPattern.NormalizingIso.Parse(value.GetString()!) is { Success: true } period && period.Value is { Years: 0, Months: 0 } whole)
        {
            return new NotifyRule((int)Math.Round(whole.ToDuration().TotalHours), null);
        }

        if (value.ValueKind != JsonValueKind.Object)
        {
            faults.Add(path, "Is { \"hours\": 24 }, { \"workingDays\": 1 } or an ISO 8601 duration such as PT24H.");
            return null;
        }

        var rule = new NotifyRule(null, null);
        foreach (var member in value.EnumerateObject())
        {
            var count = member.Value.ValueKind == JsonValueKind.Null ? null : Whole(member.Value, $"{path}.{member.Name}", faults);
            switch (Named(member.Name))
            {
                case "hours": rule = rule with { Hours = count }; break;
                case "workingDays": rule = rule with { WorkingDays = count }; break;
                default: faults.Add($"{path}.{member.Name}", "Is hours or workingDays."); break;
            }
        }

        return rule;
    }

    private static int? Whole(JsonElement value, string path, Faults faults)
    {
        if (value.ValueKind == JsonValueKind.Number && value.TryGetInt32(out var whole))
        {
            return whole;
        }

        faults.Add(path, "Is a whole number.");
        return null;
    }

    private static T? Choice<T>(JsonElement value, string path, Faults faults, params (string Word, T Value)[] choices)
        where T : struct
    {
        var word = value.ToString();
        foreach (var choice in choices)
        {
            if (choice.Word.Equals(word, StringComparison.OrdinalIgnoreCase))
            {
                return choice.Value;
            }
        }

        faults.Add(path, $"Is one of: {string.Join(", ", choices.Select(choice => choice.Word))}.");
        return null;
    }
}
