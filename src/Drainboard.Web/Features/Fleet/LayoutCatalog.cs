using System.Collections.Concurrent;
using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Fleet;

/// <summary>Layout versions never change once stored, so each is read once by this process and kept.</summary>
public sealed class LayoutCatalog(IDbContextFactory<DrainboardDb> factory)
{
    private readonly ConcurrentDictionary<LayoutId, CabinLayout> _known = [];

    public async ValueTask<CabinLayout> GetAsync(LayoutId id, CancellationToken stop)
    {
        if (_known.TryGetValue(id, out var known))
        {
            return known;
        }

        await using var db = await factory.CreateDbContextAsync(stop);
        return _known.GetOrAdd(id, await db.Layouts.AsNoTracking().SingleAsync(layout => layout.Id == id, stop));
    }
}
