using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.TurnFit;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PlannedChecks;

/// <param name="Stay">The stay under way or next; null: none is known.</param>
/// <param name="Overdue">What is over its interval, check by check, whether or not this stay may take it.</param>
public sealed record ChecksFleetLine(string Tail, string Layout, TurnView? Stay, string Zone, RoundCount? Count, IReadOnlyList<string> Overdue);

/// <param name="Checks">How many planned checks are asked for.</param>
public sealed record ChecksFleetView(int Checks, IReadOnlyList<ChecksFleetLine> Lines, Instant Now);

/// <summary>The planned checks of every tail at its present or next stay, the worst first.</summary>
public sealed class ChecksFleetQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, FleetJobs jobs, Rounds walks, IClock clock)
{
    public async Task<ChecksFleetView> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var (now, book) = (clock.GetCurrentInstant(), await jobs.GetAsync(stop));
        var (from, to) = (now - Duration.FromDays(2), now + Duration.FromDays(4));
        var turns = (await db.Turns.AsNoTracking().Where(turn => turn.EstimatedDeparture > from && turn.EstimatedArrival < to).ToArrayAsync(stop)).ToLookup(turn => turn.Tail);
        var stations = await db.Stations.AsNoTracking().ToDictionaryAsync(row => row.Code, stop);
        List<RoundOf> tails = [];
        foreach (var tail in await db.Tails.AsNoTracking().ToArrayAsync(stop))
        {
            var stay = Whereabouts.CurrentOrNext([.. turns[tail.Id]], now);
            var station = stay is null ? null : stations[stay.Station];
            tails.Add(new RoundOf(tail, await layouts.GetAsync(tail.Layout, stop), station is null ? null : Visit.Of(stay!, station, DateTimeZoneProviders.Tzdb[station.Zone], now, book.Terms), station?.SlowPercent ?? Station.UsualSlowPercent));
        }

        var rounds = await walks.ReadAsync(db, tails, Duration.FromMinutes(book.Terms.PaperworkMinutes), now, stop);
        var lines = tails.Select(one => Line(one, rounds.GetValueOrDefault(one.Tail.Id)));
        return new ChecksFleetView(
            (await Rounds.ChecksAsync(db, stop)).Count,
            [.. lines.OrderByDescending(line => line.Count?.Cold.Count > 0).ThenByDescending(line => line.Overdue.Count).ThenByDescending(line => line.Count?.Due ?? 0).ThenBy(line => line.Tail, StringComparer.Ordinal)], now);

        ChecksFleetLine Line(RoundOf one, Round? round) => new(
            one.Tail.Registration.Value, one.Layout.Code, one.Visit is { } visit ? TurnView.Of(visit.Turn, now) : null, one.Visit is { } stay ? stations[stay.Station].Zone : "Etc/UTC", RoundCount.Of(round, now),
            [.. (round?.Overdue ?? []).GroupBy(due => due.Check.Terms.Title).Select(alike => $"{alike.Key}: {string.Join(", ", alike.Select(due => due.Fixture?.Position.Value ?? "the aircraft"))}")]);
    }
}
