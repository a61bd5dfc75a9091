using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>When to clean a strainer before it blocks, from when it was cleaned and when it blocked.</summary>
public sealed class LivesQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, RepeatsQuery repeats, IClock clock)
{
    /// <summary>A planned cleaning against a blockage with its cleaning, where the station has not said (our choice: a blockage costs a deferral or a late departure now and then).</summary>
    public const double UsualPlanned = 1;

    public const double UsualUnplanned = 4;

    /// <summary>The strainers of each layout's newest version.</summary>
    public async Task<IReadOnlyList<(string Layout, Fixture Strainer)>> StrainersAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return [.. (await repeats.CabinsAsync(db, stop)).OrderBy(cabin => cabin.Key, StringComparer.Ordinal).SelectMany(cabin => cabin.Value.Fixtures.Where(fixture => fixture.Kind == FixtureKind.Strainer).Select(fixture => (cabin.Key, fixture)))];
    }

    /// <summary>Null where there is no such strainer.</summary>
    public async Task<LivesView?> ReadAsync(string code, Position position, double planned, double unplanned, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var scope = new FleetScope(code);
        var cabins = await scope.CabinsAsync(db, layouts, stop);
        if (cabins.Values.Select(cabin => cabin.Find(position)).FirstOrDefault(fixture => fixture is { Kind: FixtureKind.Strainer }) is not { } strainer)
        {
            return null;
        }

        var tails = cabins.Keys.ToArray();
        var opened = (await (from work in db.Work.AsNoTracking()
                             where tails.Contains(work.Tail) && work.FoundAt == position && work.Outcome != null && work.Outcome != WorkOutcome.NotRectified
                             join defect in db.Defects.AsNoTracking() on work.Defect equals defect.Id
                             select new { work.Tail, work.Found, work.CompletedAt, defect.RecordedAt }).ToArrayAsync(stop)).ToLookup(one => one.Tail);
        var now = clock.GetCurrentInstant();
        var ages = new List<Age>();
        foreach (var tail in tails)
        {
            Instant? clean = null;
            foreach (var one in opened[tail].OrderBy(one => one.CompletedAt))
            {
                // It was blocked when it was written up; what is found clean, or fails as a part, ends the watch without a blockage.
                var end = one.Found.IsBlockage() ? one.RecordedAt : one.CompletedAt;
                Add(ages, clean, end, one.Found.IsBlockage());
                clean = one.CompletedAt;
            }

            Add(ages, clean, now, false);
        }

        var life = WeibullFit.Of(ages);
        var plan = life is null ? null : CleaningPlan.Of(life, planned, unplanned);
        var blocked = ages.Count(age => age.Blocked);
        return new LivesView(code, position.Value, strainer.Name, [.. ages.OrderBy(age => age.Time)], tails.Count(tail => !opened[tail].Any()), Survival.Of(ages), life, planned, unplanned, plan?.Interval, plan?.Saving,
            plan is null ? [new Explained($"{blocked} blockages with a known age: no life can be told from them. It takes blockages at two different ages at least.", "our arithmetic")] : ReliabilityWords.OfCleaning(plan, blocked, ages.Count - blocked, "days"));
    }

    private static void Add(List<Age> ages, Instant? from, Instant until, bool blocked)
    {
        if (from is { } began && until > began)
        {
            ages.Add(new Age((until - began).TotalDays, blocked));
        }
    }
}
