using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Turns;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>When flights change, derives anew every running clock of their tails that counts flights, in the same transaction.</summary>
internal static class ClockKeeper
{
    /// <returns>What moved, to go on record.</returns>
    public static async Task<IReadOnlyList<Fact>> RederiveAsync(DrainboardDb db, IReadOnlyCollection<TailId> tails, CancellationToken stop)
    {
        var facts = new List<Fact>();
        foreach (var some in tails.Distinct().Chunk(500))
        {
            var counted = (await db.Deferrals.Where(deferral => some.Contains(deferral.Tail) && deferral.EndedAt == null).ToArrayAsync(stop)).Where(deferral => deferral.Basis.CountsFlights).ToArray();
            foreach (var id in counted.Select(deferral => deferral.Tail).Distinct())
            {
                // One that is being signed meanwhile reads these flights, or is told to look again.
                db.Entry(await db.Tails.SingleAsync(tail => tail.Id == id, stop)).Property(tail => tail.Version).IsModified = true;
            }

            foreach (var deferral in counted.Where(deferral => deferral.IsRunning))
            {
                var defect = await db.Defects.SingleAsync(row => row.Id == deferral.Defect, stop);
                if (deferral.Rederive(defect, await Flights.ForAsync(db, deferral, stop)) is { } moved)
                {
                    db.Entry(defect).Property(row => row.Version).IsModified = true;
                    facts.Add(moved);
                }
            }
        }

        return facts;
    }
}
