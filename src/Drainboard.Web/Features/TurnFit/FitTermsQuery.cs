using Drainboard.Data;
using Drainboard.Domain.TurnFit;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.TurnFit;

public sealed class FitTermsQuery(IDbContextFactory<DrainboardDb> factory)
{
    /// <summary>The terms, and the version of the installation that holds them.</summary>
    public async Task<(FitTerms Terms, long Version)> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var row = await db.Installations.AsNoTracking().Select(installation => new { installation.Fit, installation.Version }).SingleAsync(stop);
        return (row.Fit, row.Version);
    }
}
