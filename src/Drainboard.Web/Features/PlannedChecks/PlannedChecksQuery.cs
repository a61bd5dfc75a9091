using Drainboard.Data;
using Drainboard.Domain.PlannedChecks;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.PlannedChecks;

public sealed record PlannedCheckView(string Code, int Number, CheckTerms Terms, bool Retired, string Rhythm, string SavedBy);

/// <summary>The newest version of every planned check, those that are asked for no more among them.</summary>
public sealed class PlannedChecksQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<PlannedCheckView>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var all = await db.PlannedChecks.AsNoTracking().Where(row => !db.PlannedChecks.Any(later => later.Code == row.Code && later.Number > row.Number)).OrderBy(row => row.Code).ToArrayAsync(stop);
        return [.. all.Select(row => new PlannedCheckView(row.Code, row.Number, row.Terms, row.IsRetired, row.Terms.Rhythm, row.SavedBy))];
    }
}
