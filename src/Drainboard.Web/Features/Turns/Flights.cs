using Drainboard.Data;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Turns;

/// <summary>A tail's flights as a clock counts them.</summary>
internal static class Flights
{
    /// <summary>Those not over at an instant and all later ones, in order. What this context has changed and not yet saved is seen too.</summary>
    public static async Task<IReadOnlyList<ClockSector>> SinceAsync(DrainboardDb db, TailId tail, Instant from, CancellationToken stop)
    {
        var stored = await db.Sectors.Where(sector => sector.Tail == tail && sector.OnBlock > from).ToArrayAsync(stop);
        return
        [
            .. stored.Concat(db.Sectors.Local).Distinct().Where(sector => sector.Tail == tail && sector.OnBlock > from && db.Entry(sector).State != EntityState.Deleted)
                .OrderBy(sector => sector.OffBlock).Select(Of),
        ];
    }

    /// <summary>What the clock of a deferral counts: from its entry on, because the first flight days may lie before it was signed; none where it counts no flights.</summary>
    public static async Task<IReadOnlyList<ClockSector>> ForAsync(DrainboardDb db, Deferral deferral, CancellationToken stop) =>
        deferral.Basis.CountsFlights ? await SinceAsync(db, deferral.Tail, Instant.Min(deferral.RecordedAt, deferral.CountedFrom ?? deferral.RecordedAt), stop) : [];

    public static ClockSector Of(Sector sector)
    {
        var flight = Duration.FromMinutes(sector.FlightMinutes);
        var block = sector.OnBlock - sector.OffBlock;
        return ClockSector.Of(sector.OffBlock, sector.OnBlock, flight == Duration.FromMinutes(Math.Floor(block.TotalMinutes)) ? null : flight);
    }
}
