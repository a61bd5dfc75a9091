using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Mvc;

namespace Drainboard.Web.Hosting;

/// <summary>Turns a body that cannot be read into problem details that name the member by its path.</summary>
internal sealed partial class BadRequestWords(IProblemDetailsService problems) : IExceptionHandler
{
    public async ValueTask<bool> TryHandleAsync(HttpContext httpContext, Exception exception, CancellationToken cancellationToken)
    {
        // A body that does not say which of several kinds a member is.
        var bad = exception as BadHttpRequestException ?? (exception is NotSupportedException { Message: var missing } && missing.Contains("type discriminator", StringComparison.Ordinal) ? new BadHttpRequestException("A member of it can be of several kinds: say which, as the contract does, in the member that names the kind, and first of all.") : null);
        if (bad is null || !httpContext.Request.Path.StartsWithSegments("/api"))
        {
            return false;
        }

        httpContext.Response.StatusCode = bad.StatusCode;
        var (paths, words) = bad.InnerException is JsonException json ? (MemberPaths(json), Plain(json)) : ([""], bad.Message);
        var details = new ProblemDetails
        {
            Status = bad.StatusCode,
            Title = "The request cannot be read",
            Detail = words,
            Extensions = { ["errors"] = paths.ToDictionary(path => path, _ => new[] { words }) },
        };
        return await problems.TryWriteAsync(new ProblemDetailsContext { HttpContext = httpContext, ProblemDetails = details });
    }

    /// <summary>Every member that is missing, each at its own path; else the one member that cannot be read.</summary>
    private static string[] MemberPaths(JsonException failure)
    {
        var at = (failure.Path ?? "").TrimStart('$', '.');
        var names = failure.Message.Split(MissingNames) is [_, var after] ? QuotedName().Matches(after.Split(" Path: ")[0]).Select(match => match.Groups[1].Value)
            : UnknownName().Match(failure.Message) is { Success: true } unknown && !at.EndsWith(unknown.Groups[1].Value, StringComparison.Ordinal) ? [unknown.Groups[1].Value]
            : [];
        var paths = names.Select(name => at.Length == 0 ? name : $"{at}.{name}").Distinct().ToArray();
        return paths.Length > 0 ? paths : [at];
    }

    private const string MissingNames = "including: ";

    // A type's name is ours, and says nothing to whoever wrote the body: its last part is enough.
    [GeneratedRegex(@"(?:[A-Z]\w*[.+])+(\w+)")]
    private static partial Regex OwnType();

    [GeneratedRegex("'([^']+)'")]
    private static partial Regex QuotedName();

    [GeneratedRegex("^The JSON property '([^']+)' could not be mapped")]
    private static partial Regex UnknownName();

    private static string Plain(JsonException failure)
    {
        var words = failure.Message.Split(" Path: ")[0];
        words = words.Contains("missing required", StringComparison.Ordinal) ? words.Replace("JSON deserialization for type", "The body for", StringComparison.Ordinal) : words;
        return OwnType().Replace(words, "$1");
    }
}
