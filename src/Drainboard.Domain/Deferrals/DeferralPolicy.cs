using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// How a deferral is counted: a named, versioned value, never a subclass. The day on which the defect was recorded is day
/// zero and does not count. A null field is "set by operator" and stops whatever needs it until it is set. A running
/// deferral keeps the policy version under which it began.
/// </summary>
public sealed record DeferralPolicy(
    string Name,
    int Version,
    string Title,
    PolicyDays Days,
    TimeBase TimeBase,
    CalendarStart CalendarStart,
    CountedUnitStart? CountedUnitStart,
    ExpiryTest ExpiryTest,
    IReadOnlyList<Category> Extendable,
    int? MaxExtensions,
    Duration? NotifyWithin,
    bool? ApprovalBeforeExtendingA,
    IReadOnlyList<PolicySource> Sources)
{
    public PolicySource SourceOf(string field) =>
        Sources.FirstOrDefault(source => source.Field == field) ?? new PolicySource(field, "set by operator", "set by operator");
}
