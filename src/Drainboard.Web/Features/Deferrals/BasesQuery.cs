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
        return [.. (await OrderedAsync(db, stop)).Select(basis => new BasisView(basis.Id.Value, basis.Kind, basis.Code, basis.Terms))];
    }

    /// <summary>The items whose effectivity covers a fixture, with what each asks for at such a fixture, the shortest interval last: the longest lawful choice is not always the wise one, but it is looked for first.</summary>
    public async Task<IReadOnlyList<BasisView>> ForAsync(FixtureKind kind, string layout, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return [.. (await OrderedAsync(db, stop)).Where(basis => basis.Covers(kind, layout)).Select(basis => new BasisView(basis.Id.Value, basis.Kind, basis.Code, basis.Terms with { Conditions = basis.ConditionsFor(kind) }))];
    }

    private static async Task<IEnumerable<DeferralBasis>> OrderedAsync(DrainboardDb db, CancellationToken stop) =>
        (await db.Bases.AsNoTracking().ToArrayAsync(stop)).OrderBy(basis => basis.Kind).ThenBy(basis => basis.Code, StringComparer.Ordinal);
}
