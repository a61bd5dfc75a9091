using Drainboard.Data;
using Drainboard.Domain.Tanks;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Tanks;

public sealed class TankTermsQuery(IDbContextFactory<DrainboardDb> factory)
{
    /// <summary>The terms, and the version of the installation that holds them.</summary>
    public async Task<(TankTerms Terms, long Version)> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var row = await db.Installations.AsNoTracking().Select(installation => new { installation.Tanks, installation.Version }).SingleAsync(stop);
        return (row.Tanks, row.Version);
    }
}
