namespace Drainboard.Domain.Deferrals;

/// <summary>
/// The presets that ship with the program, each field with its source and how far that was verified. An operator's approved manuals
/// override every one; an operator's own policy begins as a copy of one.
/// </summary>
public static class DeferralPolicies
{
    private const string Pl25 = "FAA MMEL Policy Letter PL-25, as quoted second-hand";
    private const string D095 = "FAA 8900.1 Vol 4 Ch 4, OpSpec D095";
    private const string CsMmel = "CS MMEL.105 (ED Decision 2014/004/R)";
    private const string OroMlr = "ORO.MLR.105 (UK consolidation of 23 Nov 2021)";
    private const string TcGuide = "TC MMEL guide, ATA 38";
    private const string TcForm = "TC TP 9155 App. B";
    private const string Casa = "TC CASA 2022-02 (13 Apr 2022)";
    private const string HkCad = "HKAR-MMEL/MEL, CAD 549, Issue 1 Rev 4, section 2 paragraph 5";

    private static readonly PolicySource StrictExpiry = new(PolicyFields.ExpiryTest, "no regulator text found that decides it; the strict reading", "our choice");
    private static readonly PolicySource EarliestEntry = new(PolicyFields.StartsFrom, "CS MMEL.105(d), PL-25: the day of discovery is the day it was recorded in the log", "read");

    public static DeferralPolicy Us { get; } = new(
        "us", 2, "United States, air carriers", new PolicyDays(3, 10, 120), TimeBase.Utc, "", true, CalendarStart.Midnight, ClockStart.Logged, CountedUnitStart.Deferral, ExpiryTest.Arrival,
        new PerCategory(false, true, true, false), 1, null, new NotifyRule(24, null), null,
        [
            new(PolicyFields.Days, Pl25, "second-hand"),
            new(PolicyFields.TimeBase, "FAA PL-25 definition of flight day: UTC or local as the operator establishes", "read"),
            new(PolicyFields.DayOfDiscovery, Pl25, "second-hand"),
            new(PolicyFields.CalendarStart, Pl25, "second-hand"),
            EarliestEntry,
            new(PolicyFields.CountedUnitStart, Pl25, "second-hand"),
            StrictExpiry,
            new(PolicyFields.Extendable, D095, "from memory"),
            new(PolicyFields.MaxExtensions, D095, "from memory"),
            new(PolicyFields.MaxExtension, D095, "from memory"),
            new(PolicyFields.NotifyWithin, D095, "from memory"),
        ]);

    public static DeferralPolicy Eu { get; } = new(
        "eu", 2, "European Union", new PolicyDays(3, 10, 120), TimeBase.Utc, "", true, CalendarStart.Midnight, ClockStart.Logged, null, ExpiryTest.Arrival,
        new PerCategory(false, true, true, true), 1, null, null, null,
        [
            new(PolicyFields.Days, "CS-MMEL intervals B 3, C 10, D 120", "from memory"),
            new(PolicyFields.TimeBase, CsMmel + "(b): UTC or local, selected by the operator", "read"),
            new(PolicyFields.DayOfDiscovery, CsMmel + "(d)", "read"),
            new(PolicyFields.CalendarStart, CsMmel + "(b): midnight to midnight", "read"),
            EarliestEntry,
            new(PolicyFields.ExpiryTest, OroMlr + " (e)(3): no operation after expiry", "read"),
            new(PolicyFields.Extendable, OroMlr + " (f): B, C and D", "read"),
            new(PolicyFields.MaxExtensions, OroMlr + " (f): one time", "read"),
            new(PolicyFields.MaxExtension, OroMlr + " (f)(2): no longer than the interval in the MEL", "read"),
        ]);

    /// <summary>As the European Union's, told to the CAA.</summary>
    public static DeferralPolicy Uk { get; } = Eu with
    {
        Name = "uk",
        Version = 1,
        Title = "United Kingdom",
        Sources = [.. Eu.Sources.Select(source => source.Field == PolicyFields.TimeBase ? source with { Source = CsMmel + "(b), taken to hold in the UK", Verification = "our choice" } : source)],
    };

    /// <summary>Only category B's days, the excluded day and the start at 00:01 were read; the rest waits for the operator.</summary>
    public static DeferralPolicy Hk { get; } = new(
        "hk", 1, "Hong Kong", new PolicyDays(3, null, null), null, "", true, CalendarStart.OneMinutePast, ClockStart.Logged, null, null, PerCategory.Unset, null, null, null, null,
        [
            new(PolicyFields.Days, HkCad + ": B three consecutive days; C and D not read", "read"),
            new(PolicyFields.DayOfDiscovery, HkCad, "read"),
            new(PolicyFields.CalendarStart, HkCad + ": 00:01 on the calendar day after discovery", "read"),
            EarliestEntry,
        ]);

    public static DeferralPolicy Ca { get; } = new(
        "ca", 1, "Canada", new PolicyDays(3, 10, 120), TimeBase.Utc, "", true, CalendarStart.Midnight, ClockStart.Logged, CountedUnitStart.NextFlight, ExpiryTest.Arrival,
        new PerCategory(true, true, true, null), 1, null, new NotifyRule(null, 1), true,
        [
            new(PolicyFields.Days, TcGuide, "read"),
            new(PolicyFields.TimeBase, TcForm + " item 14: times in Z", "read"),
            new(PolicyFields.DayOfDiscovery, TcGuide, "read"),
            new(PolicyFields.CalendarStart, TcGuide + ": the calendar day after discovery", "read"),
            EarliestEntry,
            new(PolicyFields.CountedUnitStart, TcGuide + ": cycles and flight time begin with the next flight", "read"),
            StrictExpiry,
            new(PolicyFields.Extendable, Casa + ", TP 9155 3.12 and App. B; D is unclear and set by the operator", "read"),
            new(PolicyFields.MaxExtensions, Casa + ": a single extension, justified and agreed", "read"),
            new(PolicyFields.MaxExtension, "as long as the interval; no text found", "our choice"),
            new(PolicyFields.NotifyWithin, "TC TP 9155 3.12: within one working day", "read"),
            new(PolicyFields.ApprovalBefore, TcForm + ": category A only with approval beforehand", "read"),
        ]);

    public static IReadOnlyList<DeferralPolicy> Presets { get; } = [Us, Eu, Uk, Hk, Ca];

    public static DeferralPolicy? Find(string name) => Presets.FirstOrDefault(policy => policy.Name == name);
}
