namespace Drainboard.Domain.Deferrals;

/// <summary>The names of a policy's fields, as sources and lists of what is unset use them.</summary>
public static class PolicyFields
{
    public const string Days = "intervalDays";
    public const string TimeBase = "timeBase";
    public const string DayOfDiscovery = "dayOfDiscovery";
    public const string CalendarStart = "calendarStart";
    public const string StartsFrom = "startsFrom";
    public const string CountedUnitStart = "countedUnitStart";
    public const string ExpiryTest = "expiryTest";
    public const string Extendable = "extendable";
    public const string MaxExtensions = "maxExtensions";
    public const string MaxExtension = "maxExtension";
    public const string NotifyWithin = "notifyWithin";
    public const string ApprovalBefore = "approvalBefore";
}
