using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Board;

/// <summary>The tails that a station has or awaits: each once, with its present or next stay there.</summary>
internal static class StationStays
{
    /// <summary>One that stands past its estimate is still here until its next stay begins elsewhere.</summary>
    public static async Task<IReadOnlyList<Turn>> ReadAsync(DrainboardDb db, StationCode code, Instant now, CancellationToken stop)
    {
        var (from, to, overdueFrom) = (now, now + BoardQuery.LooksAhead, now - Whereabouts.LongestDelay);
        var turns = await db.Turns.AsNoTracking()
            .Where(turn => turn.Station == code && turn.EstimatedDeparture > overdueFrom && turn.EstimatedArrival < to && (turn.EstimatedDeparture > from || (turn.OnBlocks != null && turn.OffBlocks == null)))
            .ToArrayAsync(stop);
        var overdue = turns.Where(turn => turn.IsOverdue(now)).Select(turn => turn.Tail).Distinct().ToArray();
        var moved = overdue.Length == 0 ? [] : await db.Turns.AsNoTracking().Where(turn => overdue.Contains(turn.Tail) && turn.EstimatedArrival > overdueFrom && turn.EstimatedArrival <= now).ToArrayAsync(stop);
        return
        [
            .. turns.Where(turn => !turn.IsOver(now) && !(turn.IsOverdue(now) && moved.Any(next => next.Tail == turn.Tail && next.ArrivesAt > turn.ArrivesAt)))
                .GroupBy(turn => turn.Tail).Select(ofTail => ofTail.MinBy(turn => turn.ArrivesAt)!),
        ];
    }
}
