using Drainboard.Data;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.PotableWater;

/// <summary>The newest version of every drinking water programme.</summary>
public sealed class WaterProgrammesQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<WaterProgrammeView>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var all = await db.WaterProgrammes.AsNoTracking().Where(row => !db.WaterProgrammes.Any(later => later.Code == row.Code && later.Number > row.Number)).OrderBy(row => row.Code).ToArrayAsync(stop);
        return [.. all.Select(WaterProgrammeView.Of)];
    }
}
