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
        : null;
}
