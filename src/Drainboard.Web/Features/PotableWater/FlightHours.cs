using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

/// <summary>Flight hours of a tail, off block to on block, since an instant; a flight that was under way then counts from it.</summary>
internal sealed class FlightHours(IEnumerable<Sector> flown)
{
    private readonly (Instant Off, Instant On)[] _flown = [.. flown.Select(sector => (sector.OffBlock, sector.OnBlock))];

    public double Since(Instant at) => _flown.Where(sector => sector.On > at).Sum(sector => (sector.On - Instant.Max(sector.Off, at)).TotalHours);
}
