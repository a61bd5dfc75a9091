using Drainboard.Data;
using Drainboard.Data.Accounts;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Devices;

/// <summary>The enrolled device that a request comes from. Its secret is a cookie that no script reads and that goes to the API only.</summary>
public sealed class ThisDevice(IDbContextFactory<DrainboardDb> factory)
{
    internal const string Cookie = "drainboard-device";

    public async Task<Device?> FindAsync(HttpContext http, CancellationToken stop)
    {
        if (http.Request.Cookies[Cookie] is not { Length: > 0 } secret)
        {
            return null;
        }

        var hash = ApiKey.HashOf(secret);
        await using var db = await factory.CreateDbContextAsync(stop);
        var device = await db.Devices.AsNoTracking().SingleOrDefaultAsync(device => device.SecretHash == hash, stop);
        return device is { IsGood: true } ? device : null;
    }

    // 400 days is the longest that browsers keep a cookie (RFC 6265bis); each visit begins it anew.
    public static void Remember(HttpContext http, string secret) => http.Response.Cookies.Append(Cookie, secret, new CookieOptions
    {
        HttpOnly = true,
        SameSite = SameSiteMode.Strict,
        Path = "/api/v1",
        MaxAge = TimeSpan.FromDays(400),
        IsEssential = true,
    });

    public static void RememberAgain(HttpContext http) => Remember(http, http.Request.Cookies[Cookie]!);
}
