using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Web.Features.Devices;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.DataProtection.AuthenticatedEncryption;
using Microsoft.AspNetCore.DataProtection.AuthenticatedEncryption.ConfigurationModel;
using Microsoft.AspNetCore.Identity;

namespace Drainboard.Web.Features.Accounts;

/// <summary>Sign-in by cookie for people, by key for programs, by ticket at an enrolled device. Everything needs one of them unless it says otherwise.</summary>
internal static class AccountsSetup
{
    private const string Either = "cookie-key-or-ticket";

    public static IServiceCollection AddDrainboardAccounts(this IServiceCollection services, Settings settings)
    {
        services.AddIdentityCore<Person>(options =>
        {
            // A user name is what the operator's lists say: a staff number, a name with a space.
            options.User.AllowedUserNameCharacters = "";
        }).AddEntityFrameworkStores<DrainboardDb>().AddSignInManager().AddDefaultTokenProviders();
        services.AddDataProtection().SetApplicationName("Drainboard").PersistKeysToDbContext<DrainboardDb>()
            // Authenticated encryption in one; keys made before keep what they were made for.
            .UseCryptographicAlgorithms(new AuthenticatedEncryptorConfiguration { EncryptionAlgorithm = EncryptionAlgorithm.AES_256_GCM });

        services.AddAuthentication(Either)
            .AddPolicyScheme(Either, null, options => options.ForwardDefaultSelector = context => !IsForPrograms(context.Request.Path) ? IdentityConstants.ApplicationScheme
                : context.Request.Headers.ContainsKey(ApiKeyReader.Header) ? ApiKeyReader.Scheme
                : context.Request.Headers.ContainsKey(CrewTicketReader.Header) ? CrewTicketReader.Scheme
                : IdentityConstants.ApplicationScheme)
            .AddScheme<AuthenticationSchemeOptions, ApiKeyReader>(ApiKeyReader.Scheme, null)
            .AddScheme<AuthenticationSchemeOptions, CrewTicketReader>(CrewTicketReader.Scheme, null)
            .AddIdentityCookies();
        // OWASP's recommendation for PBKDF2 with HMAC-SHA512 (Password Storage Cheat Sheet).
        services.Configure<PasswordHasherOptions>(options => options.IterationCount = 210_000);
        services.Configure<IdentityPasskeyOptions>(options =>
        {
            // The device asks for its own PIN, face or finger: a passkey alone is two factors.
            (options.UserVerificationRequirement, options.ResidentKeyRequirement) = ("required", "required");
            options.ServerDomain = settings.Host;
        });
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
            options.Events.OnValidatePrincipal = ValidateAsync;
            options.Events.OnRedirectToLogin = context => Plain(context, StatusCodes.Status401Unauthorized);
            options.Events.OnRedirectToAccessDenied = context => Plain(context, StatusCodes.Status403Forbidden);
        });
        services.Configure<SecurityStampValidatorOptions>(options => options.ValidationInterval = TimeSpan.FromMinutes(1));
        // A principal that is made anew stays that of the same sign-in.
        services.Configure<SecurityStampValidatorOptions>(options => options.OnRefreshingPrincipal = context =>
        {
            if (context.CurrentPrincipal?.FindFirst(SignIns.Claim) is { } claim)
            {
                context.NewPrincipal?.Identities.First().AddClaim(claim);
            }

            return Task.CompletedTask;
        });
        services.AddAuthorizationBuilder().SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build());
        services.AddSingleton<ActorAccess>();
        services.AddSingleton<SignIns>();
        services.AddSingleton<Passwords>();
        services.AddSingleton<SecurityLog>();
        services.AddScoped<CurrentActor>();
        services.AddScoped<CurrentPerson>();
        return services;
    }

    private static async Task ValidateAsync(CookieValidatePrincipalContext context)
    {
        // What is open to everybody does not ask who is there: a page has dozens of such files.
        if (context.HttpContext.GetEndpoint()?.Metadata.GetMetadata<IAllowAnonymous>() is not null && !context.HttpContext.Request.Path.StartsWithSegments("/_blazor"))
        {
            return;
        }

        await SecurityStampValidator.ValidatePrincipalAsync(context);
        if (context.Principal is { } principal && !await context.HttpContext.RequestServices.GetRequiredService<SignIns>().IsOpenAsync(principal, context.HttpContext.RequestAborted))
        {
            context.RejectPrincipal();
            await context.HttpContext.SignOutAsync(IdentityConstants.ApplicationScheme);
        }
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
