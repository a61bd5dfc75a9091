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

        await using var db = await factory.CreateDbContextAsync(stop);
        var person = await db.Users.AsNoTracking().SingleOrDefaultAsync(person => person.Id == id, stop);
        if (person is null || person.IsDisabled)
        {
            return null;
        }

        if (Guid.TryParse(principal.FindFirstValue(CrewTicketReader.DeviceClaim), out var deviceId))
        {
            var device = await db.Devices.AsNoTracking().SingleOrDefaultAsync(device => device.Id == deviceId, stop);
            return device is { IsGood: true } && person.MayUse(device) ? person.AsActorAt(device) : null;
        }

        if (!Guid.TryParse(principal.FindFirstValue(ApiKeyReader.KeyClaim), out var keyId))
        {
            var here = await SignIns.Open(db, clock.GetCurrentInstant()).Where(row => row.Id == SignIns.Of(principal)).Select(row => new { row.Means, db.Installations.First().PasskeyRoles }).SingleOrDefaultAsync(stop);
            return here is null ? null : person.AsActor() with { NeedsPasskey = here.Means == SignInMeans.Password && here.PasskeyRoles.Any(person.Roles.Contains) };
        }

        var key = await db.ApiKeys.AsNoTracking().SingleOrDefaultAsync(key => key.Id == keyId, stop);
        return key is null ? null : person.AsActor(key.Scopes.ToHashSet());
    }
}
