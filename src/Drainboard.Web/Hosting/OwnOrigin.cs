namespace Drainboard.Web.Hosting;

/// <summary>
/// A change that a browser sends must come from our own pages: JSON calls carry no form token, so the browser's own word
/// about where a request comes from is checked (Sec-Fetch-Site, else Origin). Programs with a key send neither.
/// </summary>
internal static class OwnOrigin
{
    public static void UseOwnOriginOnly(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        if (IsChange(context.Request) && IsForeign(context.Request))
        {
            context.RequestServices.GetRequiredService<SecurityLog>().Refused("another origin", context);
            context.Response.StatusCode = StatusCodes.Status403Forbidden;
            await context.Response.WriteAsJsonAsync(new { title = "Not from here", status = 403, detail = "This change was sent from a page of another origin." }, options: null, contentType: "application/problem+json");
            return;
        }

        await next(context);
    });

    private static bool IsChange(HttpRequest request) =>
        (!HttpMethods.IsGet(request.Method) && !HttpMethods.IsHead(request.Method) && !HttpMethods.IsOptions(request.Method))
        // A live page's line is opened by a GET, and changes things ever after.
        || request.Path.StartsWithSegments("/_blazor");

    private static bool IsForeign(HttpRequest request)
    {
        if (request.Headers["Sec-Fetch-Site"].ToString() is { Length: > 0 } site)
        {
            return site is not ("same-origin" or "none");
        }

        var origin = request.Headers.Origin.ToString();
        return origin.Length > 0 && !origin.Equals($"{request.Scheme}://{request.Host}", StringComparison.OrdinalIgnoreCase);
    }
}
