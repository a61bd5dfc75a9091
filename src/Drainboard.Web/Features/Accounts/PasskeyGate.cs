using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components.Endpoints;

namespace Drainboard.Web.Features.Accounts;

/// <summary>Whoever's role signs in with a passkey, and came by password alone, gets as far as the page where they add one. The API asks at each act (<see cref="Domain.Accounts.Permissions"/>).</summary>
internal static class PasskeyGate
{
    private const string Me = "/me";

    public static void UsePasskeyGate(this WebApplication app) => app.Use(async (http, next) =>
    {
        if ((IsPage(http) || IsLive(http)) && await http.FindActorAsync() is { NeedsPasskey: true })
        {
            if (IsLive(http))
            {
                http.Response.StatusCode = StatusCodes.Status403Forbidden;
            }
            else
            {
                http.Response.Redirect(Me);
            }
        }
        else
        {
            await next();
        }
    });

    /// <summary>The line of live pages: what was begun for somebody else goes on for nobody here.</summary>
    private static bool IsLive(HttpContext http) => http.Request.Path.StartsWithSegments("/_blazor");

    private static bool IsPage(HttpContext http) =>
        http.GetEndpoint()?.Metadata is { } metadata && metadata.GetMetadata<ComponentTypeMetadata>() is not null && metadata.GetMetadata<IAllowAnonymous>() is null && http.Request.Path != Me;
}
