using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Accounts;

public sealed record PersonView(Guid Id, string UserName, string Name, IReadOnlyList<Role> Roles, IReadOnlyList<string> Stations, string OnlyTail, string AuthorisationNumber, string AuthorisationKind, string Organisation, LocalDate? AuthorisationLastDay, bool IsDisabled, bool IsDemo, string Email, long Version, string AuthorisationApproval, AuthorisationLimits AuthorisationLimits, bool HasSigningCode, bool HasPin, bool HasPasskey);

public sealed class PeopleQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<PersonView>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var people = await db.Users.AsNoTracking().OrderBy(person => person.Name).ThenBy(person => person.Id).ToArrayAsync(stop);
        var withPasskey = (await db.UserPasskeys.Select(passkey => passkey.UserId).Distinct().ToArrayAsync(stop)).ToHashSet();
        return [.. people.Select(person => new PersonView(person.Id, person.UserName ?? "", person.Name, person.Roles, person.Stations, person.OnlyTail, person.AuthorisationNumber, person.AuthorisationKind, person.Organisation, person.AuthorisationLastDay, person.IsDisabled, person.IsDemo, person.Email ?? "", person.Version, person.AuthorisationApproval, person.AuthorisationLimits, person.SigningCodeHash is not null, person.PinHash is not null, withPasskey.Contains(person.Id)))];
    }

    /// <summary>The accounts that a demo database offers for signing in.</summary>
    public async Task<IReadOnlyList<PersonView>> ReadDemoAsync(CancellationToken stop) =>
        [.. (await ReadAsync(stop)).Where(person => person is { IsDemo: true, IsDisabled: false }).OrderBy(person => person.Roles.DefaultIfEmpty().Min()).ThenBy(person => person.Name, StringComparer.Ordinal)];
}
