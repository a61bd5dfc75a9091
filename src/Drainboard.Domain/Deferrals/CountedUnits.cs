using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// Limits counted on the tail's flights: from which instant they count, when they are used up by the flights given (null: not yet), and how
/// much was used by a time. Only flights that are over by then are used.
/// </summary>
internal static class CountedUnits
{
    public readonly record struct Result(Instant? StartsAt, Instant? DueAt, decimal Used);

    /// <summary>The day of the last one allowed runs to its midnight. The first flight day on or after <paramref name="firstDay"/> is number one.</summary>
    public static Result FlightDays(IReadOnlyList<ClockSector> sectors, LocalDate firstDay, DateTimeZone zone, int limit, Instant? asOf)
    {
        var (days, used, last) = (0, 0, LocalDate.MinIsoValue);
        Instant? starts = null;
        Instant? due = null;
        var usedOn = LocalDate.MinIsoValue;
        foreach (var sector in sectors)
        {
            var day = sector.OffBlock.InZone(zone).Date;
            if (day < firstDay)
            {
                continue;
            }

            if (day != last)
            {
                (last, days) = (day, days + 1);
                starts ??= CalendarDays.StartOf(zone, day);
                due ??= days == limit ? CalendarDays.StartOf(zone, day.PlusDays(1)) : null;
            }

            if (sector.OnBlock <= asOf && day != usedOn)
            {
                (usedOn, used) = (day, used + 1);
            }
        }

        return new Result(starts, due, used);
    }

    /// <summary>Used up inside a flight in proportion to its time between the blocks.</summary>
    public static Result FlightHours(IReadOnlyList<ClockSector> sectors, Instant from, CountedUnitStart start, decimal limit, Instant? asOf)
    {
        var need = limit * NodaConstants.TicksPerHour;
        var (total, used) = (0m, 0m);
        Instant? due = null;
        foreach (var (begins, sector) in Counting(sectors, from, start))
        {
            var block = (decimal)(sector.OnBlock - sector.OffBlock).BclCompatibleTicks;
            var rest = (decimal)(sector.OnBlock - begins).BclCompatibleTicks;
            var flight = (decimal)sector.Flight.BclCompatibleTicks * rest / block;
            if (due is null && flight > 0 && total + flight >= need)
            {
                // To the microsecond, as instants are stored.
                due = begins + Duration.FromTicks((long)decimal.Round((need - total) * rest / flight / 10) * 10);
            }

            total += flight;
            used += sector.OnBlock <= asOf ? flight : 0;
        }

        return new Result(StartsAt(sectors, from, start), due, used / NodaConstants.TicksPerHour);
    }

    /// <summary>Used up at on block of the last one allowed.</summary>
    public static Result FlightCycles(IReadOnlyList<ClockSector> sectors, Instant from, CountedUnitStart start, int limit, Instant? asOf)
    {
        var (cycles, used) = (0, 0);
        Instant? due = null;
        foreach (var (_, sector) in Counting(sectors, from, start))
        {
            due ??= ++cycles == limit ? sector.OnBlock : null;
            used += sector.OnBlock <= asOf ? 1 : 0;
        }

        return new Result(StartsAt(sectors, from, start), due, used);
    }

    private static IEnumerable<(Instant Begins, ClockSector Sector)> Counting(IReadOnlyList<ClockSector> sectors, Instant from, CountedUnitStart start) =>
        sectors.Where(sector => start == CountedUnitStart.NextFlight ? sector.OffBlock >= from : sector.OnBlock > from)
            .Select(sector => (Instant.Max(sector.OffBlock, from), sector));

    private static Instant? StartsAt(IReadOnlyList<ClockSector> sectors, Instant from, CountedUnitStart start) =>
        start == CountedUnitStart.Deferral ? from : sectors.Where(sector => sector.OffBlock >= from).Select(sector => (Instant?)sector.OffBlock).FirstOrDefault();
}
