using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// The presets that ship with the program, each field with its source. An operator's approved manuals override every one.
/// </summary>
public static class DeferralPolicies
{
    private const string Pl25 = "FAA MMEL Policy Letter PL-25, as quoted second-hand";
    private const string OroMlr105 = "ORO.MLR.105 (UK consolidation of 23 Nov 2021)";

    public static DeferralPolicy Us { get; } = new(
        "us",
        1,
        "United States, air carriers",
        new PolicyDays(3, 10, 120),
        TimeBase.Utc,
        CalendarStart.Midnight,
        Deferrals.CountedUnitStart.AtDeferral,
        ExpiryTest.Departure,
        [Category.B, Category.C],
        1,
        Duration.FromHours(24),
        null,
        [
            new("days", Pl25, "second-hand"),
            new("timeBase", "FAA PL-25 definition of flight day: UTC or local as the operator establishes", "read"),
            new("calendarStart", Pl25, "second-hand"),
            new("countedUnitStart", Pl25, "second-hand"),
            new("expiryTest", "no regulator text found; strict default", "our choice"),
            new("extendable", "8900.1 Vol 4 Ch 4, OpSpec D095", "from memory"),
            new("maxExtensions", "8900.1 Vol 4 Ch 4, OpSpec D095", "from memory"),
            new("notifyWithin", "8900.1 Vol 4 Ch 4, OpSpec D095", "from memory"),
        ]);

    public static DeferralPolicy Eu { get; } = new(
        "eu",
        1,
        "European Union",
        new PolicyDays(3, 10, 120),
        TimeBase.Utc,
        CalendarStart.Midnight,
        null,
        ExpiryTest.Departure,
        [Category.B, Category.C, Category.D],
        1,
        null,
        null,
        [
            new("days", "CS-MMEL intervals B 3, C 10, D 120", "from memory"),
            new("timeBase", "CS MMEL.105(b): UTC or local, selected by the operator", "read"),
            new("calendarStart", "CS MMEL.105(b): midnight to midnight", "read"),
            new("expiryTest", "ORO.MLR.105(e)(3): no operation after expiry", "read"),
            new("extendable", OroMlr105 + " (f)", "read"),
            new("maxExtensions", OroMlr105 + " (f): one time", "read"),
        ]);

    public static IReadOnlyList<DeferralPolicy> Presets { get; } = [Us, Eu];

    /// <summary>A preset as it stood in one version; null when that version is not known.</summary>
    public static DeferralPolicy? Find(string name, int version) => Presets.FirstOrDefault(policy => policy.Name == name && policy.Version == version);

    public static DeferralPolicy? Find(string name) => Presets.FirstOrDefault(policy => policy.Name == name);
}
