using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Web.Features.Tanks;

/// <summary>Passenger hours on the flights of a tail: seats taken times block hours. A flight that a service is saved in the middle of lies after it where its greater part does.</summary>
/// <param name="sectors">In order of departure.</param>
internal sealed class TankFlights(IReadOnlyList<Sector> sectors, double passengers, Instant now)
{
    public Instant Now => now;

    /// <summary>Of flights that were flown between two services.</summary>
    public double Flown(Instant from, Instant to) => sectors.Where(sector => sector.Flown && MiddleOf(sector) >= from && MiddleOf(sector) < to).Sum(HoursOf);

    /// <summary>What has gone by of flights since a service.</summary>
    public double Since(Instant from) => sectors.Where(sector => MiddleOf(sector) >= from && sector.OffBlock <= now).Sum(sector => HoursOf(sector) - Left(sector));

    /// <summary>The flight under way and the next ones, each with the passenger hours since the service by its end.</summary>
    public IEnumerable<(Sector Sector, double PassengerHours)> Ahead(Instant from, int most)
    {
        var hours = Since(from);
        foreach (var sector in sectors.Where(sector => sector.OnBlock > now && MiddleOf(sector) >= from).Take(most))
        {
            hours += Left(sector);
            yield return (sector, hours);
        }
    }

    private double Left(Sector sector) => passengers * Math.Max(0, (sector.OnBlock - Instant.Max(sector.OffBlock, now)).TotalHours);

    private static Instant MiddleOf(Sector sector) => sector.OffBlock + ((sector.OnBlock - sector.OffBlock) / 2);

    private double HoursOf(Sector sector) => passengers * (sector.OnBlock - sector.OffBlock).TotalHours;
}
