using Drainboard.Data;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Mvc;

namespace Drainboard.Web.Hosting;

/// <summary>Tells a program that the database cannot do it now, and that sending the same again is right.</summary>
internal sealed class DatabaseAwayWords(IProblemDetailsService problems, ILogger<DatabaseAwayWords> log) : IExceptionHandler
{
    public async ValueTask<bool> TryHandleAsync(HttpContext httpContext, Exception exception, CancellationToken cancellationToken)
    {
        if (!DatabaseAway.IsSaidBy(exception) || !httpContext.Request.Path.StartsWithSegments("/api"))
        {
            return false;
        }

        log.LogWarning(exception, "The database could not do it now");
        httpContext.Response.StatusCode = StatusCodes.Status503ServiceUnavailable;
        httpContext.Response.Headers.RetryAfter = "2";
        var details = new ProblemDetails
        {
            Status = StatusCodes.Status503ServiceUnavailable,
            Title = "Not now",
            Detail = "The database does not answer just now, or has no room. Send the same again in a moment, under the same id: it is done once.",
            Extensions = { ["refusal"] = "database-away" },
        };
        return await problems.TryWriteAsync(new ProblemDetailsContext { HttpContext = httpContext, ProblemDetails = details });
    }

    /// <summary>The status of a page on which something failed.</summary>
    public static int StatusOf(Exception failure) => DatabaseAway.IsSaidBy(failure) ? StatusCodes.Status503ServiceUnavailable : StatusCodes.Status500InternalServerError;
}
