using Drainboard.Data;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Turns;

/// <summary>A tail's flights as a clock counts them.</summary>
internal static class Flights
{
    /// <summary>The flight that follows a stay leaves within this of its departure (our choice).</summary>
    private static readonly Duration FlightOfStay = Duration.FromHours(6);

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

    /// <summary>The stored flights of some tails not over at an instant and all later ones, each tail's in order.</summary>
    public static async Task<ILookup<TailId, ClockSector>> SinceAsync(DrainboardDb db, IReadOnlyCollection<TailId> tails, Instant from, CancellationToken stop) =>
        (await db.Sectors.AsNoTracking().Where(sector => tails.Contains(sector.Tail) && sector.OnBlock > from).OrderBy(sector => sector.OffBlock).ToArrayAsync(stop)).ToLookup(sector => sector.Tail, Of);

    /// <summary>What the clock of a deferral counts: from its entry on, because the first flight days may lie before it was signed; none where it counts no flights.</summary>
    public static async Task<IReadOnlyList<ClockSector>> ForAsync(DrainboardDb db, Deferral deferral, CancellationToken stop) =>
        deferral.Basis.CountsFlights ? await SinceAsync(db, deferral.Tail, Instant.Min(deferral.RecordedAt, deferral.CountedFrom ?? deferral.RecordedAt), stop) : [];

    /// <summary>The flight that follows a stay, however late it is; null where it is not known.</summary>
    public static async Task<Sector?> AfterAsync(DrainboardDb db, Turn? stay, CancellationToken stop) => stay is null ? null : await db.Sectors.AsNoTracking()
        .Where(row => row.Tail == stay.Tail && row.From == stay.Station && row.OffBlock >= stay.DepartsAt - FlightOfStay && row.OffBlock <= stay.DepartsAt + FlightOfStay && !row.Flown)
        .OrderBy(row => row.OffBlock).FirstOrDefaultAsync(stop);

    /// <summary>The flights ahead of a tail, in order: first the one that follows the stay under way or next, though its time is past; then those whose time is to come.</summary>
    public static async Task<IReadOnlyList<Sector>> AheadAsync(DrainboardDb db, TailId tail, Instant now, int most, CancellationToken stop)
    {
        var next = await AfterAsync(db, Whereabouts.CurrentOrNext(await ItemDoor.TurnsAroundAsync(db, tail, now, stop), now), stop);
        var from = next?.OffBlock ?? now;
        var later = await db.Sectors.AsNoTracking().Where(sector => sector.Tail == tail && !sector.Flown && sector.OffBlock > now && sector.OffBlock > from).OrderBy(sector => sector.OffBlock).Take(most).ToArrayAsync(stop);
        return [.. (next is null ? later : later.Prepend(next)).Take(most)];
    }

    public static ClockSector Of(Sector sector)
    {
        var flight = Duration.FromMinutes(sector.FlightMinutes);
        var block = sector.OnBlock - sector.OffBlock;
        return ClockSector.Of(sector.OffBlock, sector.OnBlock, flight == Duration.FromMinutes(Math.Floor(block.TotalMinutes)) ? null : flight);
    }
}
