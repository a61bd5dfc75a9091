using Drainboard.Domain.Deferrals;
using NodaTime;

namespace Drainboard.Domain.Cards;

/// <summary>
/// How long a part without a release certificate may stay: 30 flight hours from when it was fitted or the first arrival at the main line
/// station or main base, whichever is sooner (145.A.50(f)).
/// </summary>
/// <param name="HoursUsed">Flight hours of flights that are over.</param>
/// <param name="DueAt">When it must be off or certified; null while the flights known use up neither limit.</param>
/// <param name="IsReturn">The return comes first.</param>
public sealed record PartClock(decimal HoursUsed, Instant? DueAt, bool IsReturn, IReadOnlyList<Explained> Explanation)
{
    private const string Source = "145.A.50(f)";

    /// <summary>The limit that comes first; lapsed or not.</summary>
    public string LimitWords => IsReturn ? "the return to the main line station or main base" : $"{Part.HoursWithoutCertificate} flight hours";

    public bool HasLapsed(Instant now) => DueAt <= now;

    /// <param name="sectors">The tail's flights, flown and planned, in order of off block.</param>
    /// <param name="returns">Arrivals at the main line station or main base, flown and planned.</param>
    public static PartClock Read(Instant fittedAt, IReadOnlyList<ClockSector> sectors, IEnumerable<Instant> returns, Instant now)
    {
        var hours = CountedUnits.FlightHours(sectors, fittedAt, CountedUnitStart.NextFlight, Part.HoursWithoutCertificate, now);
        var home = returns.Where(at => at > fittedAt).Select(at => (Instant?)at).Min();
        var isReturn = home is not null && (hours.DueAt is null || home <= hours.DueAt);
        return new PartClock(hours.Used, isReturn ? home : hours.DueAt, isReturn,
        [
            new Explained($"Fitted without a release certificate: {Part.HoursWithoutCertificate} flight hours, of which {hours.Used:0.0} are used by flights that are over{(hours.DueAt is { } used ? $"; the flights known use them up on {used.InUtc():d MMM uuuu HH:mm}Z" : "; the flights known do not use them up")}.", Source),
            new Explained(home is { } at ? $"First return to the main line station or main base: {at.InUtc():d MMM uuuu HH:mm}Z." : "No return to the main line station or main base among the flights known.", Source),
            new Explained(isReturn ? "The return comes first: it is off or certified then." : hours.DueAt is null ? "Neither limit is reached by the flights known." : "The flight hours come first: it is off or certified before the flight that would use them up.", Source),
        ]);
    }
}
