using System.Diagnostics;
using OpenTelemetry;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using OpenTelemetry.Trace;

namespace Drainboard.Web.Hosting;

/// <summary>Traces and metrics by OTLP to whoever gathers them, set up by OpenTelemetry's own variables. Without an endpoint, for both or for one, nothing is gathered.</summary>
internal static class Telemetry
{
    public static void AddDrainboardTelemetry(this IServiceCollection services, IConfiguration configuration)
    {
        var (traces, metrics) = (IsSet("OTEL_EXPORTER_OTLP_TRACES_ENDPOINT"), IsSet("OTEL_EXPORTER_OTLP_METRICS_ENDPOINT"));
        if (!traces && !metrics)
        {
            return;
        }

        var telemetry = services.AddOpenTelemetry().ConfigureResource(resource => resource
            .AddService("drainboard", serviceVersion: typeof(Telemetry).Assembly.GetName().Version?.ToString())
            // What the variables say goes before our own name.
            .AddEnvironmentVariableDetector());
        if (traces)
        {
            telemetry.WithTracing(tracing => tracing
                .AddSource(Instruments.Name, "Npgsql")
                .AddAspNetCoreInstrumentation(options => options.Filter = http => !http.Request.Path.StartsWithSegments("/health"))
                .AddProcessor(new NoAddresses())
                .AddOtlpExporter());
        }

        if (metrics)
        {
            telemetry.WithMetrics(meters => meters
                .AddMeter(Instruments.Name, "Npgsql", "System.Runtime", "Microsoft.AspNetCore.Hosting", "Microsoft.AspNetCore.Server.Kestrel", "Microsoft.AspNetCore.RateLimiting", "Microsoft.AspNetCore.Components.Server.Circuits", "Microsoft.AspNetCore.Components.Lifecycle")
                .AddOtlpExporter());
        }

        bool IsSet(string own) => new[] { own, "OTEL_EXPORTER_OTLP_ENDPOINT" }.Any(name => !string.IsNullOrWhiteSpace(configuration[name]));
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
