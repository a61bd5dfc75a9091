using System.Collections.Concurrent;
using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Pours;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Pours;

/// <summary>
/// The pours that tell of drains today, of any tails, kept in memory by tail. A pour never changes but for being withdrawn, so how many there are since
/// a day and how many of them are withdrawn, read in the asker's own moment, says whether those that are kept are those that stand.
/// </summary>
public sealed class DrainPours
{
    private readonly ConcurrentDictionary<TailId, Kept> _kept = [];

    /// <summary>What stands of the last <see cref="DrainTrends.LooksBack"/>.</summary>
    public async Task<ILookup<TailId, Pour>> ReadAsync(DrainboardDb db, IReadOnlyCollection<TailId> tails, Instant now, CancellationToken stop)
    {
        var since = now - DrainTrends.LooksBack;
        var day = since.InUtc().Date.AtMidnight().InUtc().ToInstant();
        var marks = (await db.Pours.Where(pour => tails.Contains(pour.Tail) && pour.PouredAt >= day).GroupBy(pour => pour.Tail)
            .Select(alike => new { Tail = alike.Key, Pours = alike.Count(), Withdrawn = alike.Count(pour => pour.WithdrawnAt != null) }).ToArrayAsync(stop))
            .ToDictionary(row => row.Tail, row => new Mark(day, row.Pours, row.Withdrawn));
        List<Pour> standing = [];
        List<TailId> changed = [];
        foreach (var (tail, mark) in marks)
        {
            if (_kept.TryGetValue(tail, out var kept) && kept.Mark == mark)
            {
                standing.AddRange(kept.Standing);
            }
            else
            {
                changed.Add(tail);
            }
        }

        if (changed.Count > 0)
        {
            var read = (await db.Pours.AsNoTracking().Where(pour => changed.Contains(pour.Tail) && pour.PouredAt >= day && pour.WithdrawnAt == null).ToArrayAsync(stop)).ToLookup(pour => pour.Tail);
            foreach (var tail in changed)
            {
                _kept[tail] = new Kept(marks[tail], [.. read[tail]]);
                standing.AddRange(read[tail]);
            }
        }

        return standing.Where(pour => pour.PouredAt >= since).ToLookup(pour => pour.Tail);
    }

    private readonly record struct Mark(Instant Since, int Pours, int Withdrawn);

    private sealed record Kept(Mark Mark, Pour[] Standing);
}
