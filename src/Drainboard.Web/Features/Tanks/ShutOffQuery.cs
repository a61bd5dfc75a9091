using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Tanks;

/// <summary>Where a tail's water can be shut off, and what goes dry then.</summary>
public sealed class ShutOffQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts)
{
    public async Task<(IReadOnlyList<Fixture> Places, ShutOff? Shut)> ReadAsync(string registration, string? at, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        if (!Registration.TryParse(registration, out var mark) || await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, stop) is not { } tail)
        {
            return ([], null);
        }

        var layout = await layouts.GetAsync(tail.Layout, stop);
        var feeding = layout.Connections.Where(pipe => pipe.Water == Water.Supply).Select(pipe => pipe.From).Distinct().Select(layout.Find).OfType<Fixture>().OrderBy(fixture => fixture.Kind != FixtureKind.PotableTank).ThenBy(fixture => fixture.Along).ToArray();
        return (feeding, Position.TryParse(at, out var position) ? ShutOff.Of(layout, position) : null);
    }
}
