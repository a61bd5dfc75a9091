using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// How a deferral is counted: a named, versioned value, never a subclass. A null field is "set by operator" and stops every clock that
/// depends on it until it is set. A running deferral keeps the value under which it began.
/// </summary>
/// <param name="OperatorZone">IANA name; used, and needed, when <paramref name="TimeBase"/> is the operator's zone.</param>
/// <param name="MaxExtensionDays">The longest extension in days; null: as long as the interval in the MEL (ORO.MLR.105(f)(2)).</param>
public sealed record DeferralPolicy(
    string Name,
    int Version,
    string Title,
    PolicyDays Days,
    TimeBase? TimeBase,
    string OperatorZone,
    bool? ExcludesDayOfDiscovery,
    CalendarStart? CalendarStart,
    ClockStart StartsFrom,
    CountedUnitStart? CountedUnitStart,
    ExpiryTest? ExpiryTest,
    PerCategory Extendable,
    int? MaxExtensions,
    int? MaxExtensionDays,
    NotifyRule? NotifyWithin,
    bool? ApprovalBeforeA,
    IReadOnlyList<PolicySource> Sources)
{
    /// <summary>Names of the fields that the operator has yet to set before every clock can be counted; empty for a complete policy.</summary>
    public IReadOnlyList<string> Unset =>
    [
        .. new (string Name, bool IsUnset)[]
        {
            (PolicyFields.Days, Days.B is null || Days.C is null || Days.D is null),
            (PolicyFields.TimeBase, TimeBase is null),
            (PolicyFields.DayOfDiscovery, ExcludesDayOfDiscovery is null),
            (PolicyFields.CalendarStart, CalendarStart is null),
            (PolicyFields.CountedUnitStart, CountedUnitStart is null),
            (PolicyFields.ExpiryTest, ExpiryTest is null),
            (PolicyFields.Extendable, Extendable is { A: null } or { B: null } or { C: null } or { D: null }),
            (PolicyFields.MaxExtensions, MaxExtensions is null),
            (PolicyFields.ApprovalBefore, ApprovalBeforeA is null && Extendable.A == true),
        }.Where(one => one.IsUnset).Select(one => one.Name),
    ];

    /// <summary>The fields without which no clock of a day category can be counted: an operator cannot run under a policy that lacks one.</summary>
    public IReadOnlyList<string> Blocking => [.. Unset.Where(name => name is PolicyFields.Days or PolicyFields.TimeBase or PolicyFields.DayOfDiscovery or PolicyFields.CalendarStart)];

    public PolicySource SourceOf(string field) =>
        Sources.FirstOrDefault(source => source.Field == field) ?? new PolicySource(field, "set by operator", "set by operator");

    /// <summary>The zone whose days count; null where the time base is yet to be set.</summary>
    /// <param name="local">The zone of the station where the deferral is proposed.</param>
    public DateTimeZone? ZoneOfDays(DateTimeZone local) => TimeBase is not { } timeBase ? null : timeBase switch
    {
        Deferrals.TimeBase.Utc => DateTimeZone.Utc,
        Deferrals.TimeBase.Local => local,
        Deferrals.TimeBase.OperatorZone => DateTimeZoneProviders.Tzdb.GetZoneOrNull(OperatorZone),
    };

    /// <summary>Why these fields cannot stand together; null when they can.</summary>
    public Refusal? WhyNot() =>
        Days is { B: <= 0 or > 400 } or { C: <= 0 or > 400 } or { D: <= 0 or > 400 }
            ? Contradiction("Days are from 1 to 400.")
        : Days.B > Days.C || Days.C > Days.D || Days.B > Days.D
            ? Contradiction("A category that waits longer cannot have fewer days: B is at most C, and C at most D.")
        : TimeBase == Deferrals.TimeBase.OperatorZone && DateTimeZoneProviders.Tzdb.GetZoneOrNull(OperatorZone) is null
            ? Contradiction($"Days are counted in the operator's zone, and \"{OperatorZone}\" is not an IANA zone: write it as Europe/Lisbon.")
        : MaxExtensions is < 0 or > 20
            ? Contradiction("The number of extensions is from 0 to 20.")
        : MaxExtensions > 0 && Extendable is { A: false, B: false, C: false, D: false }
            ? Contradiction("Extensions are allowed, and no category may be extended. Choose the categories, or allow no extension.")
        : MaxExtensions == 0 && Enum.GetValues<Category>().Any(category => Extendable.For(category) == true)
            ? Contradiction("A category may be extended, and no extension is allowed. Allow one, or no category.")
        : MaxExtensionDays is <= 0 or > 400
            ? Contradiction("The longest extension is from 1 to 400 days; leave it empty for \"as long as the interval\".")
        : NotifyWithin is { Hours: null, WorkingDays: null } or { Hours: not null, WorkingDays: not null } or { Hours: <= 0 or > 8760 } or { WorkingDays: <= 0 or > 60 }
            ? Contradiction("The authority is told within hours (1 to 8,760) or within working days (1 to 60): give one of the two.")
        : ApprovalBeforeA == true && Extendable.A == false
            ? Contradiction("Category A needs approval before it is extended, and is never extended. Choose one.")
        : null;

    private static Refusal Contradiction(string words) => new("policy-contradicts-itself", words);
}
