using Drainboard.Domain.Defects;
using NodaTime;

namespace Drainboard.Domain.Recurrence;

/// <summary>
/// When a fixture's write-ups of a like symptom are a repeat: at least <see cref="Count"/> of them, all inside one rolling window that ends
/// with the newest, with a release between each and the next. No regulator's number was verified, so number, window and unit
/// are the operator's. "No fault found" is a release and resets nothing: a fault that could not be reproduced has not been
/// shown to be gone (NASA ASRS ACN 252333).
/// </summary>
/// <param name="Window">Length of the window, both ends included: 15 sectors means numbers 1 to 15.</param>
public sealed record RepeatRule(string Name, int Count, int Window, RepeatWindow Unit)
{
    public static IReadOnlyList<RepeatRule> Presets { get; } =
    [
        new("3-in-15-days", 3, 15, RepeatWindow.Days),
        new("3-in-15-sectors", 3, 15, RepeatWindow.Sectors),
        new("2-in-7-sectors", 2, 7, RepeatWindow.Sectors),
        new("2-in-30-days", 2, 30, RepeatWindow.Days),
    ];

    public string Words => $"{Count} in {Window} {(Unit == RepeatWindow.Days ? "days" : "sectors")} with a release between";

    public static RepeatRule Find(string name) => Presets.FirstOrDefault(rule => rule.Name == name) ?? Presets[0];

    /// <summary>How far back history must be read for a write-up at an instant. A sector window is bounded by 90 days (our choice).</summary>
    public Instant LooksBackTo(Instant newest) => newest - Duration.FromDays(Unit == RepeatWindow.Days ? Window : 90);

    /// <summary>Judges the newest of a fixture's write-ups; the order given does not matter.</summary>
    public RepeatFlag? Judge(IEnumerable<WriteUp> history)
    {
        var ordered = history.OrderBy(writeUp => writeUp.At).ToArray();
        if (ordered.Length == 0)
        {
            return null;
        }

        var newest = ordered[^1];
        var chain = new List<WriteUp> { newest };
        for (var at = ordered.Length - 2; at >= 0; at--)
        {
            var earlier = ordered[at];
            if (earlier.Symptom.Family() == newest.Symptom.Family() && IsInside(earlier, newest) && earlier.ClosedAt is { } closed && closed <= chain[^1].At)
            {
                chain.Add(earlier);
            }
        }

        if (chain.Count < Count)
        {
            return null;
        }

        var days = (int)Math.Ceiling((newest.At - chain[^1].At).TotalDays);
        var last = chain[1];
        var lasted = (int)Math.Floor((newest.At - last.ClosedAt!.Value).TotalDays);
        return new RepeatFlag(chain.Count, days, Name, $"{Ordinal(chain.Count)} write-up of this kind in {Say(days, "day")}. Last closed as {last.ClosedHow}; that lasted {(lasted == 0 ? "less than a day" : Say(lasted, "day"))}. Rule: {Words}.");
    }

    private bool IsInside(WriteUp earlier, WriteUp newest) => Unit switch
    {
        RepeatWindow.Days => newest.At - earlier.At <= Duration.FromDays(Window),
        RepeatWindow.Sectors => newest.SectorsFlown - earlier.SectorsFlown < Window,
    };

    private static string Say(int count, string what) => $"{count} {what}{(count == 1 ? "" : "s")}";

    private static string Ordinal(int number) => (number % 100, number % 10) switch
    {
        (11 or 12 or 13, _) => $"{number}th",
        (_, 1) => $"{number}st",
        (_, 2) => $"{number}nd",
        (_, 3) => $"{number}rd",
        _ => $"{number}th",
    };
}
