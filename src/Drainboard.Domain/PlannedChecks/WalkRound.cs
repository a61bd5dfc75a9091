using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Domain.PlannedChecks;

/// <summary>
/// The planned checks of a stay, one person, one after another: in order of urgency each takes the first time at its place that is still free.
/// What is left has no time that is long enough, and is told as such; nobody is kept from doing it.
/// </summary>
public static class WalkRound
{
    /// <param name="dues">In order of urgency.</param>
    /// <param name="paperwork">Kept free before departure.</param>
    public static IReadOnlyList<RoundSlot> Pack(IReadOnlyList<CheckDue> dues, Visit visit, Duration paperwork, Instant now)
    {
        var (begins, ends) = (Instant.Max(visit.ArrivesAt, now), visit.DepartsAt - paperwork);
        var free = Enum.GetValues<CabinPlace>().ToDictionary(place => place, place => visit.Workable(place).Select(stretch => (From: Instant.Max(stretch.From, begins), To: Instant.Min(stretch.To, ends))).Where(stretch => stretch.From < stretch.To).ToList());
        return [.. dues.Select(due => Place(due, free))];
    }

    private static RoundSlot Place(CheckDue due, Dictionary<CabinPlace, List<(Instant From, Instant To)>> free)
    {
        var takes = Duration.FromMinutes(due.Check.Terms.Minutes);
        if (free[due.Check.Terms.Place].Where(stretch => stretch.To - stretch.From >= takes).Select(stretch => (Instant?)stretch.From).FirstOrDefault() is not { } from)
        {
            return new RoundSlot(due, null, null);
        }

        // One person is at one place: the time is gone everywhere.
        foreach (var stretches in free.Values)
        {
            Take(stretches, from, from + takes);
        }

        return new RoundSlot(due, from, from + takes);
    }

    private static void Take(List<(Instant From, Instant To)> stretches, Instant from, Instant to)
    {
        var left = stretches.SelectMany(stretch => new[] { (stretch.From, To: Instant.Min(stretch.To, from)), (From: Instant.Max(stretch.From, to), stretch.To) }).Where(stretch => stretch.Item1 < stretch.Item2).ToArray();
        stretches.Clear();
        stretches.AddRange(left);
    }
}
