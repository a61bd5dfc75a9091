using System.Security.Claims;
using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Devices;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Accounts;

/// <summary>
/// Who is asking, as they stand now: read for every call, so that a role taken away is gone at the next click, however
/// long a page has been open.
/// </summary>
public sealed class ActorAccess(IDbContextFactory<DrainboardDb> factory, IClock clock)
{
    public async Task<Actor?> FindAsync(ClaimsPrincipal principal, CancellationToken stop)
    {
        if (!Guid.TryParse(principal.FindFirstValue(ClaimTypes.NameIdentifier), out var id))
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        await using var db = await factory.CreateDbContextAsync(stop);
        var people = db.Users.AsNoTracking().Where(person => person.Id == id);
        if (Guid.TryParse(principal.FindFirstValue(ApiKeyReader.KeyClaim), out var keyId))
        {
            var behind = await people.SingleOrDefaultAsync(_ => db.ApiKeys.Any(key => key.Id == keyId && key.RevokedAt == null && (key.ExpiresAt == null || now < key.ExpiresAt)), stop);
            return behind is null or { IsDisabled: true } ? null : behind.AsActor(principal.FindAll(ApiKeyReader.ScopeClaim).Select(claim => Enum.Parse<ApiScope>(claim.Value)).ToHashSet());
        }

        var person = await people.SingleOrDefaultAsync(stop);
        if (person is null || person.IsDisabled)
        {
            return null;
        }

        if (Guid.TryParse(principal.FindFirstValue(CrewTicketReader.DeviceClaim), out var deviceId))
        {
            var device = await db.Devices.AsNoTracking().SingleOrDefaultAsync(device => device.Id == deviceId, stop);
            return device is { IsGood: true } && person.MayUse(device) ? person.AsActorAt(device) : null;
        }

        var here = await SignIns.Open(db, now).Where(row => row.Id == SignIns.Of(principal)).Select(row => new { row.Means, db.Installations.First().PasskeyRoles }).SingleOrDefaultAsync(stop);
        return here is null ? null : person.AsActor() with { NeedsPasskey = here.Means == SignInMeans.Password && here.PasskeyRoles.Any(person.Roles.Contains) };
    }
}
