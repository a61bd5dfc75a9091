using System.Collections;
using Drainboard.Web.Features.Devices;
using Microsoft.AspNetCore.Http.Features;

namespace Drainboard.Web.Hosting;

/// <summary>
/// Over TLS every cookie has a name that the browser takes from this host alone, and over TLS alone (RFC 6265bis): __Host- where it goes to the
/// whole of it, __Secure- where it has a path of its own, which only the device's has. A neighbouring host cannot slip in a sign-in: without __Host- none is looked at. The program
/// itself says and reads the names without. Over plain HTTP, on one's own machine, browsers would not keep such cookies.
/// </summary>
internal static class CookieNames
{
    private const string Whole = "__Host-";
    private const string Part = "__Secure-";

    public static void UseCookieNames(this IApplicationBuilder app) => app.Use((http, next) =>
    {
        if (http.Request.IsHttps)
        {
            http.Features.Set<IRequestCookiesFeature>(new RequestCookiesFeature(new Received(http.Request.Cookies)));
            http.Features.Set<IResponseCookiesFeature>(new Answered(new Sent(http.Response.Cookies)));
        }

        return next(http);
    });

    private sealed class Received : IRequestCookieCollection
    {
        private readonly Dictionary<string, string> _cookies = new(StringComparer.Ordinal);

        public Received(IRequestCookieCollection all)
        {
            foreach (var (name, value) in all.Where(cookie => cookie.Key.StartsWith(Whole, StringComparison.Ordinal)))
            {
                _cookies[name[Whole.Length..]] = value;
            }

            // Another host of the domain may set one of these: the device's alone is taken, which opens nothing without a person's PIN.
            if (all[Part + ThisDevice.Cookie] is { } device)
            {
                _cookies[ThisDevice.Cookie] = device;
            }
        }

        public int Count => _cookies.Count;

        public ICollection<string> Keys => _cookies.Keys;

        public string? this[string key] => _cookies.GetValueOrDefault(key);

        public bool ContainsKey(string key) => _cookies.ContainsKey(key);

        public bool TryGetValue(string key, [System.Diagnostics.CodeAnalysis.NotNullWhen(true)] out string? value) => _cookies.TryGetValue(key, out value);

        public IEnumerator<KeyValuePair<string, string>> GetEnumerator() => _cookies.GetEnumerator();

        IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
    }

    private sealed record Answered(IResponseCookies Cookies) : IResponseCookiesFeature;

    private sealed class Sent(IResponseCookies cookies) : IResponseCookies
    {
        public void Append(string key, string value) => Append(key, value, new CookieOptions());

        public void Append(string key, string value, CookieOptions options)
        {
            options.Secure = true;
            cookies.Append(NameFor(key, options), value, options);
        }

        public void Delete(string key) => Delete(key, new CookieOptions());

        public void Delete(string key, CookieOptions options)
        {
            options.Secure = true;
            cookies.Delete(NameFor(key, options), options);
        }

        private static string NameFor(string key, CookieOptions options) => (options.Path is null or "/" && options.Domain is null ? Whole : Part) + key;
    }
}
