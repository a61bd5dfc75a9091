using Microsoft.AspNetCore.Components;
using NetEscapades.AspNetCore.SecurityHeaders.Infrastructure;

namespace Drainboard.Web.Hosting;

/// <summary>
/// Security headers by kind of page. Field pages and the API are strict; the desk's component library needs inline styles,
/// never inline scripts. Nothing may be asked of another origin.
/// </summary>
internal static class Headers
{
    public static IServiceCollection AddDrainboardHeaders(this IServiceCollection services)
    {
        var field = Policies(desk: false);
        var desk = Policies(desk: true);
        services.AddSecurityHeaderPolicies().SetPolicySelector(context => IsDesk(context.HttpContext) ? desk : field);
        return services;
    }

    /// <summary>
    /// What is said to a person or a program is not kept by anybody on the way or after, unless its place says for how long; and all that is text says in which signs.
    /// </summary>
    public static void UseAnswerHeaders(this IApplicationBuilder app) => app.Use((http, next) =>
    {
        http.Response.OnStarting(() =>
        {
            if (http.Response.Headers.CacheControl.Count == 0 && (http.Request.Path.StartsWithSegments("/api") || http.GetEndpoint()?.Metadata.GetMetadata<Microsoft.AspNetCore.Components.Endpoints.ComponentTypeMetadata>() is not null))
            {
                http.Response.Headers.CacheControl = "no-store";
            }

            if (http.Response.ContentType is { } type && IsText(type) && !type.Contains("charset", StringComparison.OrdinalIgnoreCase))
            {
                http.Response.ContentType = $"{type}; charset=utf-8";
            }

            return Task.CompletedTask;
        });
        return next(http);
    });

    private static bool IsText(string type) => type.StartsWith("text/", StringComparison.Ordinal) || type.EndsWith("+xml", StringComparison.Ordinal) || type.EndsWith("/xml", StringComparison.Ordinal);

    /// <summary>A desk page is a Razor page that has not opted out of the interactive router.</summary>
    public static bool IsDesk(HttpContext context) =>
        context.GetEndpoint()?.Metadata is { } metadata
        && metadata.GetMetadata<Microsoft.AspNetCore.Components.Endpoints.ComponentTypeMetadata>() is not null
        && metadata.GetMetadata<ExcludeFromInteractiveRoutingAttribute>() is null;

    private static HeaderPolicyCollection Policies(bool desk) => new HeaderPolicyCollection()
        .AddFrameOptionsDeny()
        // Said over TLS only; a machine of its own behind this name is the operator's to decide.
        .AddStrictTransportSecurityMaxAge(maxAgeInSeconds: 365 * 24 * 3600)
        .AddContentTypeOptionsNoSniff()
        .AddReferrerPolicySameOrigin()
        .AddCrossOriginOpenerPolicy(policy => policy.SameOrigin())
        .AddCrossOriginResourcePolicy(policy => policy.SameOrigin())
        .AddCustomHeader("Permissions-Policy", "geolocation=(), microphone=(), payment=(), usb=()")
        .AddCustomHeader("X-Drainboard", "1")
        .RemoveServerHeader()
        .AddContentSecurityPolicy(policy =>
        {
            policy.AddDefaultSrc().None();
            policy.AddScriptSrc().Self();
            policy.AddImgSrc().Self().Data().Blob();
            policy.AddFontSrc().Self();
            policy.AddConnectSrc().Self();
            policy.AddFormAction().Self();
            policy.AddBaseUri().Self();
            policy.AddFrameAncestors().None();
            policy.AddManifestSrc().Self();
            var style = policy.AddStyleSrc().Self();
            if (desk)
            {
                style.UnsafeInline();
            }
        });
}
