using Drainboard.Domain.Deferrals;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>A policy's values in words, one line a field; what is not set says so.</summary>
public static class PolicyWords
{
    public const string SetByOperator = "set by operator";

    public static string TimeBase(DeferralPolicy policy) => policy.TimeBase is not { } timeBase ? SetByOperator : timeBase switch
    {
        Domain.Deferrals.TimeBase.Utc => "UTC",
        Domain.Deferrals.TimeBase.Local => "station local",
        Domain.Deferrals.TimeBase.OperatorZone => policy.OperatorZone,
    };

    public static IEnumerable<(string Field, string Label, string Value)> Of(DeferralPolicy policy)
    {
        yield return (PolicyFields.Days, "Days", $"B {Say(policy.Days.B)}, C {Say(policy.Days.C)}, D {Say(policy.Days.D)}; A as the item says");
        yield return (PolicyFields.TimeBase, "Days are counted in", TimeBase(policy));
        yield return (PolicyFields.StartsFrom, "Counted from", Start(policy.StartsFrom));
        yield return (PolicyFields.DayOfDiscovery, "Day of discovery", policy.ExcludesDayOfDiscovery is not { } excludes ? SetByOperator : excludes ? "does not count" : "counts");
        yield return (PolicyFields.CalendarStart, "The first day begins", policy.CalendarStart is not { } start ? SetByOperator : start == CalendarStart.Midnight ? "at 00:00" : "at 00:01");
        yield return (PolicyFields.CountedUnitStart, "Hours and cycles count", policy.CountedUnitStart is not { } counted ? SetByOperator : counted == CountedUnitStart.Deferral ? "from the moment of deferral" : "from the next flight");
        yield return (PolicyFields.ExpiryTest, "At the end", policy.ExpiryTest is not { } test ? SetByOperator : test == ExpiryTest.Departure ? "a flight must have departed" : "a flight must have arrived");
        yield return (PolicyFields.Extendable, "Extended", string.Join(", ", Enum.GetValues<Category>().Select(category => $"{category} {(policy.Extendable.For(category) is not { } yes ? SetByOperator : yes ? "yes" : "no")}")));
        yield return (PolicyFields.MaxExtensions, "How many times", Say(policy.MaxExtensions));
        yield return (PolicyFields.MaxExtension, "How long", policy.MaxExtensionDays is { } days ? $"up to {days} days, and no longer than the interval" : "no longer than the interval");
        yield return (PolicyFields.NotifyWithin, "The authority is told within", policy.NotifyWithin?.Words ?? SetByOperator);
        yield return (PolicyFields.ApprovalBefore, "Approval beforehand", policy.ApprovalBeforeA is { } approval ? approval ? "for category A" : "not asked for" : policy.Extendable.A == false ? "category A is not extended" : SetByOperator);
    }

    public static string Start(ClockStart start) => start switch
    {
        ClockStart.Seen => "when it was seen",
        ClockStart.Saved => "when it was saved on the device",
        ClockStart.Logged => "the earliest log entry",
        ClockStart.Received => "when it was received here",
    };

    private static string Say(int? number) => number is { } set ? set.ToString(System.Globalization.CultureInfo.InvariantCulture) : SetByOperator;
}
