using Drainboard.Data;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Tanks;

/// <param name="PotableLitres">Null: not entered.</param>
public sealed record TankSize(string Layout, int? PotableLitres, int? WasteLitres);

/// <summary>What the tanks of each layout hold.</summary>
public sealed class TankSizesQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<TankSize>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var known = await db.LayoutTanks.AsNoTracking().ToDictionaryAsync(tanks => tanks.Layout, stop);
        var codes = await db.Layouts.AsNoTracking().Select(layout => layout.Code).Distinct().ToArrayAsync(stop);
        return [.. codes.Order(StringComparer.Ordinal).Select(code => new TankSize(code, known.GetValueOrDefault(code)?.PotableLitres, known.GetValueOrDefault(code)?.WasteLitres))];
    }
}
