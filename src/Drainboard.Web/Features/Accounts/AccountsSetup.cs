using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Web.Features.Devices;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;

namespace Drainboard.Web.Features.Accounts;

/// <summary>Sign-in by cookie for people, by key for programs, by ticket at an enrolled device. Everything needs one of them unless it says otherwise.</summary>
internal static class AccountsSetup
{
    private const string Either = "cookie-key-or-ticket";

    public static IServiceCollection AddDrainboardAccounts(this IServiceCollection services)
    {
        services.AddIdentityCore<Person>(options =>
        {
            options.Password.RequiredLength = 12;
            options.Password.RequireDigit = false;
            options.Password.RequireLowercase = false;
            options.Password.RequireUppercase = false;
            options.Password.RequireNonAlphanumeric = false;
            options.Lockout.MaxFailedAccessAttempts = 5;
            options.Lockout.DefaultLockoutTimeSpan = TimeSpan.FromMinutes(10);
        }).AddEntityFrameworkStores<DrainboardDb>().AddSignInManager().AddDefaultTokenProviders();
        services.AddDataProtection().SetApplicationName("Drainboard").PersistKeysToDbContext<DrainboardDb>();

        services.AddAuthentication(Either)
            .AddPolicyScheme(Either, null, options => options.ForwardDefaultSelector = context => !IsForPrograms(context.Request.Path) ? IdentityConstants.ApplicationScheme
                : context.Request.Headers.ContainsKey(ApiKeyReader.Header) ? ApiKeyReader.Scheme
                : context.Request.Headers.ContainsKey(CrewTicketReader.Header) ? CrewTicketReader.Scheme
                : IdentityConstants.ApplicationScheme)
            .AddScheme<AuthenticationSchemeOptions, ApiKeyReader>(ApiKeyReader.Scheme, null)
            .AddScheme<AuthenticationSchemeOptions, CrewTicketReader>(CrewTicketReader.Scheme, null)
            .AddIdentityCookies();
        services.ConfigureApplicationCookie(options =>
        {
            options.Cookie.Name = "drainboard";
            options.Cookie.HttpOnly = true;
            options.Cookie.SameSite = SameSiteMode.Lax;
            options.LoginPath = "/sign-in";
            options.AccessDeniedPath = "/trouble";
            options.ReturnUrlParameter = "back";
            options.SlidingExpiration = true;
            options.ExpireTimeSpan = TimeSpan.FromHours(12);
            options.Events.OnRedirectToLogin = context => Plain(context, StatusCodes.Status401Unauthorized);
            options.Events.OnRedirectToAccessDenied = context => Plain(context, StatusCodes.Status403Forbidden);
        });
        // The framework's own choice for this cookie is never, TLS or not.
        services.Configure<Microsoft.AspNetCore.Antiforgery.AntiforgeryOptions>(options => options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest);
        services.Configure<SecurityStampValidatorOptions>(options => options.ValidationInterval = TimeSpan.FromMinutes(1));
        services.AddAuthorizationBuilder().SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build());
        services.AddSingleton<ActorAccess>();
        services.AddScoped<CurrentActor>();
        return services;
    }

    // A key opens the API and its contract, never a page: pages do not ask for its scopes.
    private static bool IsForPrograms(PathString path) => path.StartsWithSegments("/api") || path.StartsWithSegments("/openapi");

    // A program is told with a status; a person is led to the sign-in page and back.
    private static Task Plain(RedirectContext<Microsoft.AspNetCore.Authentication.Cookies.CookieAuthenticationOptions> context, int status)
    {
        if (context.Request.Path.StartsWithSegments("/api"))
        {
            context.Response.StatusCode = status;
        }
        else
        {
            context.Response.Redirect(context.RedirectUri);
        }

        return Task.CompletedTask;
    }
}
