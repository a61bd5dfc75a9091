namespace Drainboard.Web.Hosting;

/// <summary>What a device remembers for its person: the theme. A cookie of one word, nothing else.</summary>
internal static class Preferences
{
    public const string ThemeCookie = "theme";
    public static readonly IReadOnlyList<string> Themes = ["system", "day", "night", "outdoors"];

    public static void MapPreferences(this IEndpointRouteBuilder app) =>
        app.MapGet("/theme/{to}", (string to, string? back, HttpContext http) =>
        {
            if (Themes.Contains(to))
            {
                http.Response.Cookies.Append(ThemeCookie, to, new CookieOptions { MaxAge = TimeSpan.FromDays(365), HttpOnly = true, SameSite = SameSiteMode.Lax, IsEssential = true });
            }

            return TypedResults.LocalRedirect(IsLocal(back) ? back! : "/");
        }).AllowAnonymous().ExcludeFromDescription();

    public static string ThemeOf(HttpContext? http) =>
        http?.Request.Cookies[ThemeCookie] is { } set && Themes.Contains(set) ? set : "system";

    public static bool IsLocal(string? url) => url is ['/'] or ['/', not ('/' or '\\'), ..];
}
