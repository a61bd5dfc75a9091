using Drainboard.Data;
using Microsoft.AspNetCore.Http.HttpResults;
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
            return NotReady("about to stop");
        }

        try
        {
            await using var db = await factory.CreateDbContextAsync(stop);
            var (known, applied) = (db.Database.GetMigrations().ToHashSet(), (await db.Database.GetAppliedMigrationsAsync(stop)).ToHashSet());
            return !known.IsSubsetOf(applied) ? NotReady("the database waits for an upgrade: run the migrate command")
                : !applied.IsSubsetOf(known) ? NotReady("the database was upgraded by a newer program")
                : !await db.TakesWritesAsync(stop) ? NotReady("the database takes no writes: it is a standby, or read-only")
                : TypedResults.Ok("ready");
        }
        catch (Exception failure) when (failure is System.Data.Common.DbException || DatabaseAway.IsSaidBy(failure))
        {
            return NotReady("the database does not answer");
        }
    }

    private static JsonHttpResult<string> NotReady(string why) => TypedResults.Json(why, statusCode: StatusCodes.Status503ServiceUnavailable);
}
