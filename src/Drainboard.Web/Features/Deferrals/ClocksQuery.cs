using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>One running deferral: what, where the tail is or goes next, and its clock.</summary>
public sealed record ClockLine(Guid Defect, int Number, string Tail, string FixtureName, DeferralView Deferral, TurnView? Turn, string Zone);

public sealed record ClocksView(Instant Now, IReadOnlyList<ClockLine> Lines, IReadOnlyList<ClockLine> Awaiting)
{
    public int Lapsed => Lines.Count(line => line.Deferral.Clock is { Lapsed: true });

    public int UnderADay => Lines.Count(line => line.Deferral.Clock is { UnderADay: true });
}

/// <summary>Every running deferral of the fleet, the one that lapses first on top, those without an interval last; and those that wait to begin, by departure.</summary>
public sealed class ClocksQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    public async Task<ClocksView> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var now = clock.GetCurrentInstant();
        var rows = await (from deferral in db.Deferrals.AsNoTracking()
                          where deferral.EndedAt == null
                          join defect in db.Defects.AsNoTracking() on deferral.Defect equals defect.Id
                          join tail in db.Tails.AsNoTracking() on defect.Tail equals tail.Id
                          select new { deferral, defect.Id, defect.Number, defect.Position, tail }).ToArrayAsync(stop);
        var tailIds = rows.Select(row => row.tail.Id).Distinct().ToArray();
        var (from, to) = (now - Domain.Turns.Whereabouts.LongestDelay, now + Duration.FromDays(2));
        var turns = (await db.Turns.AsNoTracking().Where(turn => tailIds.Contains(turn.Tail) && turn.EstimatedDeparture > from && turn.EstimatedArrival < to).ToArrayAsync(stop)).ToLookup(turn => turn.Tail);
        var zones = await db.Stations.AsNoTracking().ToDictionaryAsync(station => station.Code, station => station.Zone, stop);
        var lines = new List<ClockLine>();
        foreach (var row in rows)
        {
            var layout = await layouts.GetAsync(row.tail.Layout, stop);
            var turn = Domain.Turns.Whereabouts.CurrentOrNext([.. turns[row.tail.Id]], now);
            lines.Add(new ClockLine(row.Id.Value, row.Number, row.tail.Registration.Value, ItemDoor.FixtureAt(layout, row.Position).Name, DeferralView.Of(row.deferral, now), turn is null ? null : TurnView.Of(turn, now), turn is { } visit && zones.TryGetValue(visit.Station, out var zone) ? zone : "Etc/UTC"));
        }

        var ordered = lines.OrderBy(line => line.Deferral.DueAt ?? Instant.MaxValue).ThenBy(line => line.Tail, StringComparer.Ordinal).ThenBy(line => line.Number).ToLookup(line => line.Deferral.Running);
        return new ClocksView(now, [.. ordered[true]], [.. ordered[false].OrderBy(line => line.Turn?.DepartsAt ?? Instant.MaxValue)]);
    }
}
