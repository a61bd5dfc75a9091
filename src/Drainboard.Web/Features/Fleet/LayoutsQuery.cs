using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Fleet;

public sealed record LayoutView(Guid Id, string Code, int Version, string Name, int Seats, IReadOnlyList<FixtureBody> Fixtures, IReadOnlyList<PipeBody> Connections, IReadOnlyList<CabinClass> Classes);

public sealed record FixtureBody(string Position, FixtureKind Kind, string Name, string Area, int Along, int Across, string? Access = null, bool Accessible = false);

public sealed record PipeBody(Water Water, string From, string To);

public sealed class LayoutsQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<LayoutView>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var rows = await db.Layouts.AsNoTracking().ToArrayAsync(stop);
        return [.. rows.OrderBy(layout => layout.Code, StringComparer.Ordinal).ThenByDescending(layout => layout.Version).Select(layout => new LayoutView(
            layout.Id.Value, layout.Code, layout.Version, layout.Name, layout.Seats,
            [.. layout.Fixtures.Select(fixture => new FixtureBody(fixture.Position.Value, fixture.Kind, fixture.Name, fixture.Area, fixture.Along, fixture.Across, fixture.Access, fixture.Accessible))],
            [.. layout.Connections.Select(pipe => new PipeBody(pipe.Water, pipe.From.Value, pipe.To.Value))], layout.Classes))];
    }
}
