using Drainboard.Data;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Hosting;

internal static class Health
{
    public static void MapHealth(this IEndpointRouteBuilder app)
    {
        app.MapGet("/health/live", () => TypedResults.Ok("alive")).AllowAnonymous().ExcludeFromDescription();
        app.MapGet("/health/ready", ReadyAsync).AllowAnonymous().ExcludeFromDescription();
    }

    private static async Task<IResult> ReadyAsync(IDbContextFactory<DrainboardDb> factory, Draining draining, CancellationToken stop)
    {
        if (draining.HasBegun)
        {
            return TypedResults.Json("about to stop", statusCode: StatusCodes.Status503ServiceUnavailable);
        }

        try
        {
            await using var db = await factory.CreateDbContextAsync(stop);
            var pending = await db.Database.GetPendingMigrationsAsync(stop);
            return pending.Any()
                ? TypedResults.Json("the database waits for an upgrade: run the migrate command", statusCode: StatusCodes.Status503ServiceUnavailable)
                : TypedResults.Ok("ready");
        }
        catch (Exception failure) when (failure is System.Data.Common.DbException || DatabaseAway.IsSaidBy(failure))
        {
            return TypedResults.Json("the database does not answer", statusCode: StatusCodes.Status503ServiceUnavailable);
        }
    }
}
