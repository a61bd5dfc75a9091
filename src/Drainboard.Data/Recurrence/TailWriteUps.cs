using Drainboard.Domain.Defects;
using Drainboard.Domain.Recurrence;
using Drainboard.Domain.Rectification;
using NodaTime;

namespace Drainboard.Data.Recurrence;

/// <summary>
/// Judges one tail's write-ups, each with those before it at its fixture. What was found and what was flown is asked for only when some
/// write-up has enough of them.
/// </summary>
internal sealed class TailWriteUps(RepeatRule rule, Func<IReadOnlyCollection<DefectId>, Task<IReadOnlyDictionary<DefectId, Found>>> causesOf, Func<Instant, Instant, Task<IReadOnlyList<Instant>>> flownBetween)
{
    // A fleet's history says the same few words two million times.
    private static readonly Dictionary<Found, string> Rectified = Enum.GetValues<Found>().ToDictionary(found => found, found => $"rectified ({found.Words().ToLowerInvariant()})");

    /// <summary>Those whose flag is not what the rule says, with what it says.</summary>
    public async Task<IReadOnlyList<(DefectId Id, RepeatFlag? Flag)>> DifferingAsync(IEnumerable<Filed> filed, Func<Filed, bool> isAsked)
    {
        var asked = filed.GroupBy(one => one.Position).SelectMany(place => Ask([.. place.OrderBy(one => one.RecordedAt)], isAsked)).ToArray();
        var needed = asked.Where(one => one.Earlier.Count > 0).ToArray();
        var (causes, flown) = needed.Length == 0 ? (new Dictionary<DefectId, Found>(), []) : await KnownAsync(needed);
        return [.. asked.Select(one => (one.Newest, Flag: one.Earlier.Count == 0 ? null : rule.Judge(History(one.Newest, one.Earlier, causes, flown)))).Where(one => one.Flag != one.Newest.Repeat).Select(one => (one.Newest.Id, one.Flag))];
    }

    private async Task<(IReadOnlyDictionary<DefectId, Found> Causes, IReadOnlyList<Instant> Flown)> KnownAsync((Filed Newest, IReadOnlyList<Filed> Earlier)[] needed)
    {
        var (first, last) = (needed.Min(one => one.Earlier[^1].RecordedAt), needed.Max(one => one.Newest.RecordedAt));
        var fixedBefore = needed.SelectMany(one => one.Earlier).Where(one => one.Closure == Closure.Rectified).Select(one => one.Id).ToHashSet();
        return (fixedBefore.Count == 0 ? new Dictionary<DefectId, Found>() : await causesOf(fixedBefore), rule.Unit == RepeatWindow.Sectors ? await flownBetween(first, last) : []);
    }

    /// <summary>Each that is asked about, with the earlier ones that its window may hold, newest first; none where they are too few.</summary>
    private IEnumerable<(Filed Newest, IReadOnlyList<Filed> Earlier)> Ask(Filed[] ordered, Func<Filed, bool> isAsked)
    {
        for (var at = 0; at < ordered.Length; at++)
        {
            var newest = ordered[at];
            if (!isAsked(newest))
            {
                continue;
            }

            var since = rule.LooksBackTo(newest.RecordedAt);
            var earlier = new List<Filed>();
            for (var before = at - 1; newest.IsWriteUp && before >= 0 && ordered[before].RecordedAt >= since; before--)
            {
                if (ordered[before].IsWriteUp && ordered[before].RecordedAt < newest.RecordedAt)
                {
                    earlier.Add(ordered[before]);
                }
            }

            yield return (newest, earlier.Count + 1 < rule.Count ? [] : earlier);
        }
    }

    private static IEnumerable<WriteUp> History(Filed newest, IReadOnlyList<Filed> earlier, IReadOnlyDictionary<DefectId, Found> causes, IReadOnlyList<Instant> flown) =>
        earlier.Select(one => new WriteUp(one.Id, one.Symptom, one.RecordedAt, flown.Count(at => at <= one.RecordedAt), one.ClosedAt, How(one.Closure, causes.TryGetValue(one.Id, out var found) ? found : null)))
            .Append(new WriteUp(newest.Id, newest.Symptom, newest.RecordedAt, flown.Count(at => at <= newest.RecordedAt), null, ""));

    private static string How(Closure? closure, Found? found) => closure switch
    {
        null => "",
        Closure.Rectified when found is { } what => Rectified[what],
        { } other => other.Words(),
    };
}
