using Drainboard.Data;
using Drainboard.Domain.Isolation;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Isolation;

public sealed class AdviceTermsQuery(IDbContextFactory<DrainboardDb> factory)
{
    /// <summary>The terms, and the version of the installation that holds them.</summary>
    public async Task<(AdviceTerms Terms, long Version)> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var row = await db.Installations.AsNoTracking().Select(installation => new { installation.Advice, installation.Version }).SingleAsync(stop);
        return (row.Advice, row.Version);
    }
}
