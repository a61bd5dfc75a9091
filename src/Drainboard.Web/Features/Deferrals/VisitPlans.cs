using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>The planned stays of some tails, as chances to work on them, in two statements whatever the number of tails.</summary>
internal static class VisitPlans
{
    /// <summary>Further ahead nothing is planned firmly (our choice).</summary>
    public static readonly Duration Ahead = Duration.FromDays(40);

    public static async Task<(IReadOnlyDictionary<TailId, VisitPlan> Plans, ILookup<TailId, Turn> Turns, IReadOnlyDictionary<StationCode, Station> Stations)> ReadAsync(DrainboardDb db, IReadOnlyCollection<TailId> tails, FitTerms terms, Instant now, CancellationToken stop)
    {
        var (turns, stations) = await TurnsAsync(db, tails, now, stop);
        return (Of(turns, stations, terms, now), turns.ToLookup(turn => turn.Tail), stations);
    }

    /// <summary>The stays not long over and those ahead.</summary>
    public static async Task<(IReadOnlyList<Turn> Turns, IReadOnlyDictionary<StationCode, Station> Stations)> TurnsAsync(DrainboardDb db, IReadOnlyCollection<TailId> tails, Instant now, CancellationToken stop)
    {
        var (from, to) = (now - Whereabouts.LongestDelay, now + Ahead);
        var stations = await db.Stations.AsNoTracking().ToDictionaryAsync(station => station.Code, stop);
        return (await db.Turns.AsNoTracking().Where(turn => tails.Contains(turn.Tail) && turn.EstimatedDeparture > from && turn.EstimatedArrival < to).ToArrayAsync(stop), stations);
    }

    public static IReadOnlyDictionary<TailId, VisitPlan> Of(IEnumerable<Turn> turns, IReadOnlyDictionary<StationCode, Station> stations, FitTerms terms, Instant now)
    {
        var zones = stations.ToDictionary(pair => pair.Key, pair => DateTimeZoneProviders.Tzdb[pair.Value.Zone]);
        return turns.Where(turn => !turn.IsOver(now) && stations.ContainsKey(turn.Station)).GroupBy(turn => turn.Tail).ToDictionary(group => group.Key, group => new VisitPlan(group.Select(turn => Visit.Of(turn, stations[turn.Station], zones[turn.Station], now, terms))));
    }
}
