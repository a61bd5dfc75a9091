using Drainboard.Data;
using Drainboard.Domain.Lavatories;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Lavatories;

public sealed class LavatoryTermsQuery(IDbContextFactory<DrainboardDb> factory)
{
    /// <summary>The terms, and the version of the installation that holds them.</summary>
    public async Task<(LavatoryTerms Terms, long Version)> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var row = await db.Installations.AsNoTracking().Select(installation => new { installation.Lavatories, installation.Version }).SingleAsync(stop);
        return (row.Lavatories, row.Version);
    }

    /// <summary>The operator's minimum of toilets, and the version of the installation that holds it.</summary>
    public async Task<(IReadOnlyList<ToiletMinimum> Rules, long Version)> MinimumsAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var row = await db.Installations.AsNoTracking().Select(installation => new { installation.ToiletMinimums, installation.Version }).SingleAsync(stop);
        return (row.ToiletMinimums, row.Version);
    }
}
