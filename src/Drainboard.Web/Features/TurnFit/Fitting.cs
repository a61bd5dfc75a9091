using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Web.Features.TurnFit;

/// <summary>What is needed to say of items whether they fit: the fleet's times, and the stay of each tail that they would be worked in.</summary>
public sealed record Fitting(FitBook Book, IReadOnlyDictionary<TailId, Visit> Stays)
{
    /// <summary>For one tail; null where no stay of it is known.</summary>
    internal static async Task<Fitting?> OfAsync(FleetJobs jobs, Turn? turn, Station? station, Instant now, CancellationToken stop)
    {
        if (turn is null || station is null)
        {
            return null;
        }

        var book = await jobs.GetAsync(stop);
        return new Fitting(book, new Dictionary<TailId, Visit> { [turn.Tail] = Visit.Of(turn, station, DateTimeZoneProviders.Tzdb[station.Zone], now, book.Terms) });
    }
}
