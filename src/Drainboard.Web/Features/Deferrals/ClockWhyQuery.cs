using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Web.Features.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>A clock explained: its steps, what is used up, and the policy's version with the time zone data it was counted by.</summary>
public sealed record ClockWhy(Instant? StartsAt, Instant? DueAt, ClockUnit? Binding, IReadOnlyList<ClockCount> Counts, IReadOnlyList<Explained> Explanation, string TimeZoneData);

/// <summary>Explains the clock of the deferral that a defect carries or last carried; counted anew from the flights as they stand.</summary>
public sealed class ClockWhyQuery(IDbContextFactory<DrainboardDb> factory, IClock clock)
{
    public async Task<ClockWhy?> ReadAsync(DefectId defect, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var deferral = await db.Deferrals.AsNoTracking().Where(row => row.Defect == defect).OrderByDescending(row => row.ProposedAt).FirstOrDefaultAsync(stop);
        return deferral is null ? null : await ExplainAsync(db, deferral, clock.GetCurrentInstant(), stop);
    }

    internal static async Task<ClockWhy?> ExplainAsync(DrainboardDb db, Deferral deferral, Instant now, CancellationToken stop)
    {
        var reading = deferral.ReadClock(await Flights.ForAsync(db, deferral, stop), now);
        if (reading is null)
        {
            return null;
        }

        // Newer time zone data never moves a running clock of days: what was told to people stands.
        var moved = deferral is { IsRunning: true, Basis.CountsFlights: false } && reading.DueAt != deferral.DueAt;
        IReadOnlyList<Explained> steps = moved ? [.. reading.Explanation, new($"Counted with time zone data {deferral.TimeZoneData} it ended {deferral.DueAt}, and that stands until it is extended.", "our rule")] : reading.Explanation;
        return new ClockWhy(reading.StartsAt, moved ? deferral.DueAt : reading.DueAt, reading.Binding, reading.Counts, steps, deferral.TimeZoneData);
    }
}
