using System.Security.Claims;
using System.Text.Encodings.Web;
using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Authentication;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using NodaTime;

namespace Drainboard.Web.Features.Accounts;

/// <summary>Reads X-Api-Key: the person the key acts for, and the key itself as a claim, with its scopes, which never change.</summary>
internal sealed class ApiKeyReader(IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder, IDbContextFactory<DrainboardDb> factory, SecurityLog log, IClock clock)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    public const string Header = "X-Api-Key";
    public new const string Scheme = "api-key";
    public const string KeyClaim = "drainboard:key";
    public const string ScopeClaim = "drainboard:scope";

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var hash = ApiKey.HashOf(Request.Headers[Header].ToString().Trim());
        await using var db = await factory.CreateDbContextAsync(Context.RequestAborted);
        var key = await db.ApiKeys.AsNoTracking().SingleOrDefaultAsync(key => key.SecretHash == hash, Context.RequestAborted);
        if (key is null || !key.IsGoodAt(clock.GetCurrentInstant()))
        {
            log.Refused("api key", Context);
            return AuthenticateResult.Fail("This key is unknown, has expired or was revoked.");
        }

        log.KeyUsed(key.Id, key.Person.Value, Context);
        var identity = new ClaimsIdentity([new(ClaimTypes.NameIdentifier, key.Person.Value.ToString()), new(KeyClaim, key.Id.ToString()), .. key.Scopes.Select(scope => new Claim(ScopeClaim, scope.ToString()))], Scheme);
        return AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(identity), Scheme));
    }
}
