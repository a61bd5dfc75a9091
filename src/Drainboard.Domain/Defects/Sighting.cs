using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Defects;

/// <summary>The content of a report as the person gave it. <see cref="LeakWhere"/> is asked for when it leaks.</summary>
public sealed record Sighting(
    Position Position,
    Symptom Symptom,
    LeakAnswer Leak,
    string LeakWhere,
    FlightPhase Phase,
    string Words,
    Instant SeenAt,
    Instant? SavedAt,
    LogReference? Log)
{
    public const int LongestWords = 2000;

    /// <summary>How far east of UTC a place is at most, in minutes (the IANA time zone database: +14:00), and how far west (-12:00).</summary>
    private const int MostEast = 14 * 60, MostWest = -12 * 60;

    public OthersToo Others { get; init; }

    /// <summary>The other fixtures that do the same, where the person named them.</summary>
    public IReadOnlyList<Position> AlsoAt { get; init; } = [];

    /// <summary>How many minutes the device's own time was ahead of UTC when it was saved; null where that is not known.</summary>
    public int? OffsetMinutes { get; init; }

    /// <summary>Why it cannot be taken as it is, or null. Never for a clock that is off: that is said, not refused.</summary>
    public Refusal? WhyNot(CabinLayout layout) =>
        layout.Find(Position) is null
            ? new Refusal("no-such-position", $"Layout {layout.Code} has no fixture at position {Position}. Choose one from the list.")
        : Symptom == Symptom.Leaks && Leak != LeakAnswer.Leaking
            ? new Refusal("leaks-but-no-leak", "You chose \"Leaks\": then the answer about a leak is yes. If it does not leak, choose what you see instead.")
        : Leak == LeakAnswer.Leaking && LeakWhere.Trim().Length == 0
            ? new Refusal("leak-where", "You saw a leak: say where, in a few words (for example \"under the basin\").")
        : Words.Length > LongestWords
            ? new Refusal("too-long", $"The description is {Words.Length} characters long; {LongestWords} fit. Shorten it.")
        : Symptom == Symptom.Other && Words.Trim().Length == 0
            ? new Refusal("say-what", "You chose \"something else\": say what you see, in a few words.")
        : AlsoAt.Count > 0 && Others != OthersToo.Others
            ? new Refusal("others-named", "Other fixtures are named, so the answer to \"others too?\" is yes.")
        : AlsoAt.Any(other => other == Position || layout.Find(other) is null) || AlsoAt.Distinct().Count() != AlsoAt.Count
            ? new Refusal("no-such-other", $"The other fixtures are other positions of layout {layout.Code}, each named once.")
        : OffsetMinutes is < MostWest or > MostEast
            ? new Refusal("offset", "A device's time is 12 hours behind UTC at most and 14 ahead (IANA time zones).")
        : null;
}
