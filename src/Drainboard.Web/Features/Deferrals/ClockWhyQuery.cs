using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Web.Features.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>A clock explained: its steps, what is used up, and the policy's version with the time zone data it was counted by.</summary>
public sealed record ClockWhy(Instant? StartsAt, Instant? DueAt, ClockUnit? Binding, IReadOnlyList<ClockCount> Counts, IReadOnlyList<ClockStep> Explanation, string TimeZoneData);

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
        var flights = deferral.Basis.CountsFlights ? await Flights.SinceAsync(db, deferral.Tail, deferral.BeganAt ?? deferral.RecordedAt, stop) : [];
        var reading = deferral.ReadClock(flights, now);
        return reading is null ? null : new ClockWhy(reading.StartsAt, reading.DueAt, reading.Binding, reading.Counts, reading.Explanation, deferral.TimeZoneData);
    }
}
