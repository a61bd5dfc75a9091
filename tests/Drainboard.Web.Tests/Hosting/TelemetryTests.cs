using System.Collections.Concurrent;
using System.Diagnostics.Metrics;
using System.Text;
using Drainboard.Testing.Databases;
using Drainboard.Testing.Processes;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Drainboard.Web.Tests.Hosting;

/// <summary>What the service tells a gatherer over OTLP (opentelemetry.io, OTLP/HTTP: POST to /v1/traces and /v1/metrics), and what it never does.</summary>
public sealed class TelemetryTests(Hosts hosts) : IClassFixture<Hosts>
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Gatherer_IsToldOfRequestsAndDuties_AndOfNoSecretAddress()
    {
        var told = new ConcurrentQueue<(string Path, string Body)>();
        var builder = WebApplication.CreateBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        await using var gatherer = builder.Build();
        gatherer.MapPost("/{**path}", async (HttpContext http) =>
        {
            using var reader = new StreamReader(http.Request.Body, Encoding.Latin1);
            told.Enqueue((http.Request.Path, await reader.ReadToEndAsync(Stop)));
        });
        await gatherer.StartAsync(Stop);
        var address = gatherer.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.Single();
        var folder = Directory.CreateTempSubdirectory("drainboard-telemetry-").FullName;
        await using (var web = new WebProcess(Repository.Program, folder, new Dictionary<string, string>
        {
            ["DRAINBOARD_DEMO"] = "off", ["OTEL_EXPORTER_OTLP_ENDPOINT"] = address, ["OTEL_EXPORTER_OTLP_PROTOCOL"] = "http/protobuf", ["OTEL_METRIC_EXPORT_INTERVAL"] = "500", ["OTEL_BSP_SCHEDULE_DELAY"] = "200",
        }))
        {
            await web.StartAsync();
            using var client = new HttpClient { BaseAddress = web.Address };
            await client.GetAsync(new Uri("/calendar/a-secret-of-somebody.ics", UriKind.Relative), Stop);
            await client.GetAsync(new Uri("/set-up/first?secret=another-secret", UriKind.Relative), Stop);
            await UntilAsync(() => told.Any(one => one.Path == "/v1/traces" && one.Body.Contains("/set-up/first", StringComparison.Ordinal)) && new[] { "drainboard.duty.rounds", "http.server.request.duration" }.All(name => told.Any(one => one.Path == "/v1/metrics" && one.Body.Contains(name, StringComparison.Ordinal))));
        }

        var all = string.Join("\n", told.Select(one => one.Body));
        Assert.DoesNotContain("a-secret-of-somebody", all, StringComparison.Ordinal);
        Assert.DoesNotContain("another-secret", all, StringComparison.Ordinal);
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task WishAtTheDoor_IsMeasuredByActAndAnswer_AndSoIsTellingTheOpenPages()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var seen = new ConcurrentQueue<(string Name, string Tags)>();
        using var listener = new MeterListener { InstrumentPublished = (instrument, it) => _ = instrument.Meter.Name == "Drainboard" && Listens(it, instrument) };
        listener.SetMeasurementEventCallback<double>((instrument, _, tags, _) => seen.Enqueue((instrument.Name, string.Join(' ', tags.ToArray().Select(tag => $"{tag.Key}={tag.Value}")))));
        listener.Start();
        await Station.OpenAsync(host);
        await UntilAsync(() => seen.Any(one => one.Name == "drainboard.change.told"));
        Assert.Contains(("drainboard.act.duration", "act=Sort answer=Done"), seen);
    }

    private static bool Listens(MeterListener listener, Instrument instrument)
    {
        listener.EnableMeasurementEvents(instrument);
        return true;
    }

    private static async Task UntilAsync(Func<bool> holds)
    {
        for (var tries = 0; tries < 150 && !holds(); tries++)
        {
            await Task.Delay(100, Stop);
        }

        Assert.True(holds());
    }
}
