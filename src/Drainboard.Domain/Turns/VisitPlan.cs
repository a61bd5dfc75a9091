using Drainboard.Domain.TurnFit;
using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>A tail's planned stays in order. Asked by every clock on the tail, so it is made once.</summary>
public sealed class VisitPlan
{
    private readonly Visit[] _visits;

    /// <param name="visits">In any order.</param>
    public VisitPlan(IEnumerable<Visit> visits) => _visits = [.. visits.OrderBy(visit => visit.ArrivesAt)];

    public static VisitPlan Empty { get; } = new([]);

    /// <summary>The stays not over yet, the present one first.</summary>
    public IEnumerable<Visit> From(Instant now) => _visits.Where(visit => visit.DepartsAt > now);

    /// <summary>As far as stays are planned; null where none is.</summary>
    public Instant? Ends => _visits.Length == 0 ? null : _visits.Max(visit => visit.DepartsAt);

    /// <summary>The last stay at which the work can be done and finished before it lapses; null when there is none.</summary>
    public Visit? LastThatCanTake(WorkNeed need, Instant now, Instant due)
    {
        for (var index = FirstAtOrAfter(due) - 1; index >= 0 && _visits[index].DepartsAt > now; index--)
        {
            if (_visits[index].CanTake(need, now, due))
            {
                return _visits[index];
            }
        }

        return null;
    }

    private int FirstAtOrAfter(Instant at)
    {
        var (low, high) = (0, _visits.Length);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (_visits[middle].ArrivesAt < at)
            {
                low = middle + 1;
            }
            else
            {
                high = middle;
            }
        }

        return low;
    }
}
