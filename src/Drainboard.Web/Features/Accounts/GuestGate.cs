using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Components.Endpoints;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Accounts;

/// <summary>
/// A guest for one tail is let in there and nowhere else: to that tail's addresses, to those of its defects, and to the few that keep to
/// the asker by themselves. What is not known to be theirs is closed, so a new address is closed until somebody opens it.
/// </summary>
internal static class GuestGate
{
    public static void UseGuestGate(this WebApplication app) => app.Use(async (http, next) =>
    {
        if (!IsGuarded(http.GetEndpoint()) || await http.FindActorAsync() is not { OnlyTail: { } only } guest || await IsTheirsAsync(http, only))
        {
            await next();
        }
        else if (http.Request.Path.StartsWithSegments("/api"))
        {
            Log(http, guest);
            await AnswerHttp.Problem(StatusCodes.Status403Forbidden, "Not allowed", $"Your access is for {only} only.", "not-your-tail").ExecuteAsync(http);
        }
        else if (http.Request.Path == "/" || http.Request.Path.StartsWithSegments("/board"))
        {
            http.Response.Redirect($"/tails/{only}");
        }
        else
        {
            Log(http, guest);
            http.Response.StatusCode = StatusCodes.Status403Forbidden;
        }
    });

    private static void Log(HttpContext http, Actor guest) => http.RequestServices.GetRequiredService<SecurityLog>().NotAllowed(guest.Person.Value, "not-your-tail", http);

    private static bool IsGuarded(Endpoint? endpoint) =>
        endpoint is not null && endpoint.Metadata.GetMetadata<OpenToGuestsAttribute>() is null && (endpoint.Metadata.GetMetadata<ActOf>() is not null || endpoint.Metadata.GetMetadata<ComponentTypeMetadata>() is not null);

    private static async Task<bool> IsTheirsAsync(HttpContext http, Registration only)
    {
        if (http.Request.RouteValues["registration"] is string text)
        {
            return Registration.TryParse(text, out var mark) && mark == only;
        }

        if (!Guid.TryParse(http.Request.RouteValues["id"]?.ToString(), out var id) || !(http.Request.Path.StartsWithSegments("/defects") || http.Request.Path.StartsWithSegments("/api/v1/defects")))
        {
            return false;
        }

        await using var db = await http.RequestServices.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContextAsync(http.RequestAborted);
        return await db.Defects.AnyAsync(defect => defect.Id == new DefectId(id) && db.Tails.Any(tail => tail.Id == defect.Tail && tail.Registration == only), http.RequestAborted);
    }
}
