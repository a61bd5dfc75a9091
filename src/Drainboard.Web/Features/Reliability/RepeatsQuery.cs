using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Reliability;

/// <summary>The newest snapshot's standings, the worst first.</summary>
public sealed class RepeatsQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts)
{
    public const int Most = 1000;

    public async Task<RepeatsView> ReadAsync(RepeatsFilter filter, int most, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var snapshot = await NewestAsync(db, stop);
        var cabins = await CabinsAsync(db, stop);
        if (snapshot is null)
        {
            return new RepeatsView(null, [], 0, [.. cabins.Keys.Order(StringComparer.Ordinal)]);
        }

        var tails = await db.Tails.AsNoTracking().Select(tail => new { tail.Id, tail.Registration }).ToDictionaryAsync(tail => tail.Id, tail => tail.Registration.Value, stop);
        var rows = db.Standings.AsNoTracking().Where(standing => standing.Snapshot == snapshot.Number);
        if (filter.Layout is { } layout)
        {
            rows = rows.Where(standing => standing.Layout == layout);
        }

        if (filter.Kind is { } kind)
        {
            rows = rows.Where(standing => standing.Kind == kind);
        }

        if (filter.Family is { } family)
        {
            rows = rows.Where(standing => standing.Family == family);
        }

        if (filter.Scope is { } scope)
        {
            rows = rows.Where(standing => standing.Scope == scope);
        }

        if (filter.Tail is { } mark)
        {
            var of = tails.Where(tail => tail.Value == mark).Select(tail => (TailId?)tail.Key).ToArray();
            rows = rows.Where(standing => of.Contains(standing.Tail));
        }

        if (filter.Flagged)
        {
            rows = rows.Where(standing => standing.IsFlagged);
        }

        var count = await rows.CountAsync(stop);
        var shown = await rows.OrderBy(standing => standing.Rank).Take(Math.Clamp(most, 1, Most)).ToArrayAsync(stop);
        return new RepeatsView(SnapshotView.Of(snapshot), [.. shown.Select(one => LineOf(one, snapshot.Unit, one.Tail is { } tail ? tails.GetValueOrDefault(tail, "?") : null, cabins))], count, [.. cabins.Keys.Order(StringComparer.Ordinal)]);
    }

    internal static Task<StandingSnapshot?> NewestAsync(DrainboardDb db, CancellationToken stop) => db.StandingSnapshots.AsNoTracking().OrderByDescending(one => one.Number).FirstOrDefaultAsync(stop);

    internal static StandingLine LineOf(Standing one, ExposureUnit unit, string? tail, IReadOnlyDictionary<string, CabinLayout> cabins)
    {
        var name = cabins.GetValueOrDefault(one.Layout)?.Find(one.Position)?.Name ?? one.Position.Value;
        return new StandingLine(one.Rank, one.Scope, tail, one.Layout, one.Position.Value, name, one.Kind, one.Family, one.Events, one.Exposure, 1000 * one.Rate, 1000 * one.Low, 1000 * one.High, 1000 * one.FleetRate, one.Ratio, one.RatioLow, one.PWorse, one.PAdjusted, one.Excess, one.IsFlagged, StandingWords.Reason(one, unit));
    }

    public async Task<IReadOnlyList<string>> LayoutsAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return await db.Layouts.Select(layout => layout.Code).Distinct().OrderBy(code => code).ToArrayAsync(stop);
    }

    /// <summary>The newest version of each layout by its code: positions keep their meaning from version to version.</summary>
    internal async Task<IReadOnlyDictionary<string, CabinLayout>> CabinsAsync(DrainboardDb db, CancellationToken stop)
    {
        var ids = await db.Layouts.AsNoTracking().Select(layout => new { layout.Id, layout.Code, layout.Version }).ToArrayAsync(stop);
        var newest = new Dictionary<string, CabinLayout>();
        foreach (var one in ids.GroupBy(layout => layout.Code).Select(code => code.MaxBy(layout => layout.Version)!))
        {
            newest[one.Code] = await layouts.GetAsync(one.Id, stop);
        }

        return newest;
    }
}
