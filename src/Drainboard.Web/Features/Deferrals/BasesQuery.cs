using Drainboard.Data;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Deferrals;

public sealed record BasisView(Guid Id, BasisKind Kind, string Code, BasisTerms Terms);

public sealed class BasesQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<BasisView>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var rows = await db.Bases.AsNoTracking().ToArrayAsync(stop);
        return [.. rows.OrderBy(basis => basis.Kind).ThenBy(basis => basis.Code, StringComparer.Ordinal).Select(basis => new BasisView(basis.Id.Value, basis.Kind, basis.Code, basis.Terms))];
    }

    /// <summary>The items whose effectivity covers a fixture, the shortest interval last: the longest lawful choice is not always the wise one, but it is looked for first.</summary>
    public async Task<IReadOnlyList<BasisView>> ForAsync(Fixture fixture, CabinLayout layout, CancellationToken stop) =>
        [.. (await ReadAsync(stop)).Where(basis => basis.Terms.Kinds.Contains(fixture.Kind) && (basis.Terms.Layouts.Count == 0 || basis.Terms.Layouts.Contains(layout.Code)))];
}
