using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using static Drainboard.Web.Features.Reliability.ReliabilityWords;

namespace Drainboard.Web.Features.Reliability;

/// <summary>What to keep for one kind of fixture.</summary>
/// <param name="Failed">Failed parts found in the last year.</param>
/// <param name="ExposureDays">Of all fixtures of the kind together.</param>
/// <param name="Stock">For the rate as it was seen.</param>
/// <param name="CarefulStock">For the upper end of the rate's 95 % interval: few failures tell little.</param>
public sealed record SparesView(FixtureKind Kind, int Installed, int Failed, double ExposureDays, int Days, double Service, double MeanDemand, int Stock, double Achieved, int CarefulStock, IReadOnlyList<Explained> Explanation);

/// <summary>How many spares serve a time, from the failed parts that were found.</summary>
public sealed class SparesQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    /// <summary>Null where the fleet has no such fixture, or has not flown.</summary>
    public async Task<SparesView?> ReadAsync(FixtureKind kind, int days, double service, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var now = clock.GetCurrentInstant();
        var from = now - StandingsMaker.Window;
        var cabins = await new FleetScope().CabinsAsync(db, layouts, stop);
        var delivered = await db.Tails.AsNoTracking().Select(tail => new { tail.Id, tail.DeliveredOn }).ToArrayAsync(stop);
        var each = delivered.Where(tail => cabins.ContainsKey(tail.Id)).Select(tail => (Fixtures: cabins[tail.Id].Fixtures.Count(fixture => fixture.Kind == kind), Days: FleetExposure.DaysOf(tail.DeliveredOn, from, now))).ToArray();
        var (installed, exposure) = (each.Sum(tail => tail.Fixtures), each.Sum(tail => tail.Fixtures * tail.Days));
        if (installed == 0 || exposure <= 0)
        {
            return null;
        }

        var failed = (await db.Work.AsNoTracking().Where(work => work.CompletedAt >= from && work.Found == Found.FailedPart && work.Outcome != null && work.Outcome != WorkOutcome.NotRectified).Select(work => new { work.Tail, work.FoundAt }).ToArrayAsync(stop))
            .Count(work => cabins.GetValueOrDefault(work.Tail)?.Find(work.FoundAt)?.Kind == kind);
        var demand = failed / exposure * installed * days;
        var careful = PoissonRate.Limits(failed, exposure).High * installed * days;
        var (stock, most) = (SpareStock.For(demand, service), SpareStock.For(careful, service));
        return new SparesView(kind, installed, failed, exposure, days, service, demand, stock.Stock, stock.Achieved, most.Stock,
        [
            new($"{failed} failed parts were found in {Say(exposure)} fixture days; {installed} are installed, so {Say(demand)} are expected to be asked for in {days} days.", "Poisson; our arithmetic"),
            new($"{stock.Stock} serve with a chance of {Say(100 * stock.Achieved)} %: demand at most the stock. If the true rate is at the upper end of its 95 % interval, {Say(careful)} are expected and {most.Stock} are needed.", "Garwood 1936; our arithmetic"),
            new("Every failed part of this kind of fixture counts alike, whatever its part number. Pack sizes, repair times and shelf life are not in it.", "common practice"),
        ]);
    }
}
