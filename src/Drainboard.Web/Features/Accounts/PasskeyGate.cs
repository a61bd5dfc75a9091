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
        if (IsGuarded(http) && await http.FindActorAsync() is { NeedsPasskey: true })
        {
            http.Response.Redirect(Me);
        }
        else
        {
            await next();
        }
    });

    private static bool IsGuarded(HttpContext http) =>
        http.GetEndpoint()?.Metadata is { } metadata && metadata.GetMetadata<ComponentTypeMetadata>() is not null && metadata.GetMetadata<IAllowAnonymous>() is null && http.Request.Path != Me;
}
