using Microsoft.AspNetCore.Authentication.Cookies;

namespace Drainboard.Web.Hosting;

/// <summary>
/// Over TLS a cookie has a name that the browser takes from this host alone, over TLS alone, for the whole of it (__Host-, RFC 6265bis): a
/// neighbouring host cannot slip one in. Over plain HTTP, on one's own machine, browsers would not keep it so.
/// </summary>
internal sealed class HostCookies : ICookieManager
{
    private readonly ChunkingCookieManager _cookies = new();

    public string? GetRequestCookie(HttpContext context, string key) => _cookies.GetRequestCookie(context, NameFor(context, key));

    public void AppendResponseCookie(HttpContext context, string key, string? value, CookieOptions options) => _cookies.AppendResponseCookie(context, NameFor(context, key), value, options);

    public void DeleteCookie(HttpContext context, string key, CookieOptions options) => _cookies.DeleteCookie(context, NameFor(context, key), options);

    private static string NameFor(HttpContext context, string key) => context.Request.IsHttps ? $"__Host-{key}" : key;
}
