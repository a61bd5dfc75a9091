using System.Diagnostics;
using OpenTelemetry;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using OpenTelemetry.Trace;

namespace Drainboard.Web.Hosting;

/// <summary>Traces and metrics by OTLP to whoever gathers them, set up by OpenTelemetry's own variables. Without OTEL_EXPORTER_OTLP_ENDPOINT nothing is gathered.</summary>
internal static class Telemetry
{
    public static void AddDrainboardTelemetry(this IServiceCollection services, IConfiguration configuration)
    {
        if (string.IsNullOrWhiteSpace(configuration["OTEL_EXPORTER_OTLP_ENDPOINT"]))
        {
            return;
        }

        services.AddOpenTelemetry()
            .ConfigureResource(resource => resource.AddService(configuration["OTEL_SERVICE_NAME"] is { Length: > 0 } name ? name : "drainboard", serviceVersion: typeof(Telemetry).Assembly.GetName().Version?.ToString()))
            .WithTracing(tracing => tracing
                .AddSource(Instruments.Name, "Npgsql")
                .AddAspNetCoreInstrumentation(options => options.Filter = http => !http.Request.Path.StartsWithSegments("/health"))
                .AddProcessor(new NoAddresses())
                .AddOtlpExporter())
            .WithMetrics(metrics => metrics
                .AddMeter(Instruments.Name, "Npgsql", "System.Runtime", "Microsoft.AspNetCore.Hosting", "Microsoft.AspNetCore.Server.Kestrel", "Microsoft.AspNetCore.RateLimiting", "Microsoft.AspNetCore.Components.Server.Circuits", "Microsoft.AspNetCore.Components.Lifecycle")
                .AddOtlpExporter());
    }

    /// <summary>A request is named by the pattern of its address: what stands in a secret address is not told.</summary>
    private sealed class NoAddresses : BaseProcessor<Activity>
    {
        public override void OnEnd(Activity data)
        {
            if (data.GetTagItem("url.path") is not null)
            {
                data.SetTag("url.path", data.GetTagItem("http.route"));
                data.SetTag("url.query", null);
            }
        }
    }
}
