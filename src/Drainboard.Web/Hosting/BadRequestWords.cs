using System.Text.Json;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Mvc;

namespace Drainboard.Web.Hosting;

/// <summary>Turns a body that cannot be read into problem details that name the member by its path.</summary>
internal sealed class BadRequestWords(IProblemDetailsService problems) : IExceptionHandler
{
    public async ValueTask<bool> TryHandleAsync(HttpContext httpContext, Exception exception, CancellationToken cancellationToken)
    {
        if (exception is not BadHttpRequestException bad || !httpContext.Request.Path.StartsWithSegments("/api"))
        {
            return false;
        }

        httpContext.Response.StatusCode = bad.StatusCode;
        var (path, words) = bad.InnerException is JsonException json ? (MemberPath(json), Plain(json)) : ("", bad.Message);
        var details = new ProblemDetails
        {
            Status = bad.StatusCode,
            Title = "The request cannot be read",
            Detail = words,
            Extensions = { ["errors"] = new Dictionary<string, string[]> { [path] = [words] } },
        };
        return await problems.TryWriteAsync(new ProblemDetailsContext { HttpContext = httpContext, ProblemDetails = details });
    }

    private static string MemberPath(JsonException failure) => (failure.Path ?? "").TrimStart('$', '.');

    private static string Plain(JsonException failure)
    {
        var words = failure.Message.Split(" Path: ")[0];
        return words.Contains("missing required", StringComparison.Ordinal) ? words.Replace("JSON deserialization for type", "The body for", StringComparison.Ordinal) : words;
    }
}
