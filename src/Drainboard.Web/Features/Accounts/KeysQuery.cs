using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Accounts;

public sealed record KeyView(Guid Id, string Name, string Person, IReadOnlyList<ApiScope> Scopes, Instant CreatedAt, Instant? ExpiresAt, Instant? RevokedAt);

public sealed class KeysQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<KeyView>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var keys = await db.ApiKeys.AsNoTracking().OrderByDescending(key => key.CreatedAt).ThenBy(key => key.Id).ToArrayAsync(stop);
        var ids = keys.Select(key => key.Person.Value).ToArray();
        var names = await db.Users.AsNoTracking().Where(person => ids.Contains(person.Id)).ToDictionaryAsync(person => person.Id, person => person.Name, stop);
        return [.. keys.Select(key => new KeyView(key.Id, key.Name, names.GetValueOrDefault(key.Person.Value, "?"), key.Scopes, key.CreatedAt, key.ExpiresAt, key.RevokedAt))];
    }
}
