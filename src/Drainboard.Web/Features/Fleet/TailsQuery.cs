using Drainboard.Data;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Fleet;

public sealed record TailLine(Guid Id, string Registration, string Layout, int LayoutVersion);

public sealed class TailsQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<TailLine>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var rows = await (from tail in db.Tails.AsNoTracking()
                          join layout in db.Layouts.AsNoTracking() on tail.Layout equals layout.Id
                          select new { tail.Id, tail.Registration, layout.Code, layout.Version }).ToArrayAsync(stop);
        return [.. rows.OrderBy(row => row.Registration.Value, StringComparer.Ordinal).Select(row => new TailLine(row.Id.Value, row.Registration.Value, row.Code, row.Version))];
    }
}
