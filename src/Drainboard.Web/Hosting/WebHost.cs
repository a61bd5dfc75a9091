using Drainboard.Data;
using Drainboard.Web.Features;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Live;
using Drainboard.Web.Features.Records;
using Drainboard.Web.Features.Reliability;
using Drainboard.Web.Features.Warnings;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.HttpOverrides;
using MudBlazor.Services;
using NodaTime;
using Serilog;

namespace Drainboard.Web.Hosting;

/// <summary>How the web service is put together, and in which order it starts.</summary>
internal static class WebHost
{
    public static async Task<int> RunAsync(string[] args)
    {
        var app = Build(args);
        try
        {
            await app.Services.GetRequiredService<FirstRun>().PrepareAsync(CancellationToken.None);
            await app.StartAsync();
            app.Services.GetRequiredService<FirstRun>().SayWhereWeAre(app.Urls);
            await app.WaitForShutdownAsync();
            return 0;
        }
        catch (StartRefusedException refused)
        {
            Console.Error.WriteLine(refused.Message);
            return 1;
        }
        catch (IOException failure) when (failure.InnerException is Microsoft.AspNetCore.Connections.AddressInUseException)
        {
            Console.Error.WriteLine($"{failure.Message} Stop the other program or choose another port: --urls http://localhost:5080");
            return 1;
        }
    }

    public static WebApplication Build(string[] args)
    {
        // Published, the assets stand beside the program; from source they come from the project's manifest in every environment.
        var published = Directory.Exists(Path.Combine(AppContext.BaseDirectory, "wwwroot"));
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions { Args = args, ContentRootPath = published ? AppContext.BaseDirectory : null });
        builder.WebHost.UseStaticWebAssets();
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;

            // An import of a whole fleet; a photo has a smaller limit of its own.
            kestrel.Limits.MaxRequestBodySize = 60 * 1024 * 1024;
        });
        builder.Services.AddSerilog(log => log
            .MinimumLevel.Override("Microsoft", Serilog.Events.LogEventLevel.Warning)
            .MinimumLevel.Override("System", Serilog.Events.LogEventLevel.Warning)
            // A lost race for a key or a version is an answer, not an error; what is one reaches us as an exception.
            .MinimumLevel.Override("Microsoft.EntityFrameworkCore", Serilog.Events.LogEventLevel.Fatal)
            .MinimumLevel.Override("Microsoft.AspNetCore.DataProtection", Serilog.Events.LogEventLevel.Error)
            .MinimumLevel.Override("Serilog.AspNetCore.RequestLoggingMiddleware", Serilog.Events.LogEventLevel.Warning)
            .ReadFrom.Configuration(builder.Configuration)
            .WriteToConsole(builder.Configuration["DRAINBOARD_LOG"]));

        builder.Services.AddDrainboardTelemetry(builder.Configuration);
        var settings = Settings.Read(builder.Configuration);
        builder.Services.AddSingleton(settings);
        if (settings.Host is { } host)
        {
            builder.Configuration["AllowedHosts"] = $"{host};localhost;127.0.0.1;[::1]";
        }

        if (settings.Mail is { } mail)
        {
            builder.Services.AddSingleton(mail);
        }

        builder.Services.AddSingleton<IClock>(new MicrosecondClock(SystemClock.Instance));
        builder.Services.AddDrainboardData(settings.Database);
        builder.Services.AddDrainboardAccounts(settings);
        builder.Services.AddDrainboardWire();
        builder.Services.AddDrainboardHeaders();
        builder.Services.AddDrainboardRateLimits();
        builder.Services.AddDrainboardFeatures();
        builder.Services.AddSingleton<FirstRun>();
        builder.Services.AddSingleton<EmbeddedHold>();
        builder.Services.AddSingleton<ServiceRole>();
        builder.Services.AddSingleton<Draining>();
        builder.Services.AddSingleton<IHostLifetime>(provider => provider.GetRequiredService<Draining>());
        builder.Services.AddHostedService(provider => provider.GetRequiredService<ChangeFeed>());
        builder.Services.AddHostedService<WarningService>();
        builder.Services.AddHostedService<SealService>();
        builder.Services.AddHostedService<StandingsService>();
        builder.Services.AddRazorComponents().AddInteractiveServerComponents();
        builder.Services.AddMudServices();
        builder.Services.AddCascadingAuthenticationState();
        builder.Services.AddScoped<AuthenticationStateProvider, RevalidatingPerson>();

        if (settings.Proxies.Count > 0)
        {
            builder.Services.Configure<ForwardedHeadersOptions>(options =>
            {
                options.ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto;
                options.KnownProxies.Clear();
                options.KnownIPNetworks.Clear();
                foreach (var network in settings.Proxies)
                {
                    options.KnownIPNetworks.Add(network);
                }
            });
        }

        var app = builder.Build();
        if (settings.Proxies.Count > 0)
        {
            app.UseForwardedHeaders();
        }

        app.UseCookieNames();
        app.UseRequestLog();
        app.UseSecurityHeaders();
        app.UseAnswerHeaders();
        // A program is told in problem details, a person on a page.
        app.UseWhen(context => IsApi(context), api => api.UseExceptionHandler().UseStatusCodePages());
        app.UseWhen(context => !IsApi(context), pages => pages.UseExceptionHandler(new ExceptionHandlerOptions { ExceptionHandlingPath = "/trouble", CreateScopeForErrors = true, StatusCodeSelector = DatabaseAwayWords.StatusOf }).UseStatusCodePagesWithReExecute("/trouble", "?status={0}", createScopeForStatusCodePages: true));
        app.UseRouting();
        app.UseOwnOriginOnly();
        app.UseRateLimiter();
        app.UseAuthentication();
        app.UseAuthorization();
        app.UseActGate();
        app.UsePasskeyGate();
        app.UseGuestGate();
        app.UseAntiforgery();
        app.MapStaticAssets().AllowAnonymous();
        app.MapDrainboardFeatures();
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode(options => options.ContentSecurityFrameAncestorsPolicy = null);
        return app;
    }

    private static bool IsApi(HttpContext context) => context.Request.Path.StartsWithSegments("/api");
}
