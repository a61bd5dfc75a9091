using System.Diagnostics;
using System.Text.Json.Nodes;
using Drainboard.Testing;
using Drainboard.Testing.Processes;

namespace Drainboard.Web.Tests.Hosting;

/// <summary>The published program, started from another folder in Production: it makes its data folder, loads the demo and serves every asset.</summary>
public sealed class PublishedTests
{
    [Fact]
    public async Task Published_StartedFromElsewhere_ServesPagesAndAssets()
    {
        var stop = TestContext.Current.CancellationToken;
        var folder = Directory.CreateTempSubdirectory("drainboard-published-").FullName;
        var app = Path.Combine(folder, "app");
        try
        {
            await RunAsync("dotnet", ["publish", Path.Combine(Repository.Root, "src", "Drainboard.Web"), "-c", "Release", "-o", app, "-v", "quiet", "-nologo"], Repository.Root);
            await StartedAsync(folder, async client =>
            {
                foreach (var path in new[] { "/look.css", "/field.js", "/_content/MudBlazor/MudBlazor.min.css", "/_framework/blazor.web.js", "/fonts/atkinson-hyperlegible-next-latin-400-normal.woff2" })
                {
                    Assert.NotEmpty(await client.GetByteArrayAsync(new Uri(path, UriKind.Relative), stop));
                }

                Assert.Contains("This is the demo", await client.GetStringAsync(new Uri("/sign-in", UriKind.Relative), stop), StringComparison.Ordinal);
                Assert.Contains("QQ-MRA", (await client.ReadAsync("/api/v1/tails")).ToJsonString(), StringComparison.Ordinal);
                Assert.Null((await PlannedAsync(client))["solver"]);
            });

            // The solver's library is of no use on this system: plans are made without it, and say so.
            foreach (var library in Directory.EnumerateFiles(app, "*ortools*.so*", SearchOption.AllDirectories))
            {
                File.Delete(library);
            }

            await StartedAsync(folder, async client =>
            {
                var planned = await PlannedAsync(client);
                Assert.Equal("The solver's library is not there for this system.", planned["solver"]!.GetValue<string>());
                Assert.NotEmpty(planned["content"]!["items"]!.AsArray());
                Assert.Equal("The solver's library is not there for this system.", (await client.MustAsync("/api/v1/network/solutions", new { wish = new { days = 7 } }))["solver"]!.GetValue<string>());
            });
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task<JsonNode> PlannedAsync(HttpClient client)
    {
        var shift = await client.ReadAsync("/api/v1/stations/QQMB/shift");
        var people = shift["people"]!.AsArray().Select(person => new { person = person!["person"]!.GetValue<Guid>() }).ToArray();
        return await client.MustAsync("/api/v1/stations/QQMB/shift/solutions", new { wish = new { from = shift["from"]!.GetValue<string>(), to = shift["to"]!.GetValue<string>(), people }, seconds = 1 });
    }

    private static async Task StartedAsync(string folder, Func<HttpClient, Task> use)
    {
        await using var service = new WebProcess(Path.Combine(folder, "app", "Drainboard.Web.dll"), Path.Combine(folder, "data"));
        await service.StartAsync();
        using var client = new HttpClient { BaseAddress = service.Address };
        client.DefaultRequestHeaders.Add("X-Api-Key", (await File.ReadAllTextAsync(Path.Combine(folder, "data", "demo-api-key.txt"))).Trim());
        await use(client);
    }

    private static async Task RunAsync(string program, string[] args, string folder)
    {
        using var process = Process.Start(new ProcessStartInfo(program, args) { WorkingDirectory = folder, RedirectStandardOutput = true })!;
        var output = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.True(process.ExitCode == 0, output);
    }
}
