using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace Drainboard.Web.Tests.Hosting;

/// <summary>The published program, started from another folder in Production: it makes its data folder, loads the demo and serves every asset.</summary>
public sealed class PublishedTests
{
    [Fact]
    public async Task Published_StartedFromElsewhere_ServesPagesAndAssets()
    {
        var stop = TestContext.Current.CancellationToken;
        var folder = Directory.CreateTempSubdirectory("drainboard-published-").FullName;
        await RunAsync("dotnet", ["publish", Path.Combine(Repository.Root, "src", "Drainboard.Web"), "-c", "Release", "-o", Path.Combine(folder, "app"), "-v", "quiet", "-nologo"], Repository.Root);
        var address = $"http://127.0.0.1:{FreePort()}";
        using var service = Process.Start(new ProcessStartInfo("dotnet", [Path.Combine(folder, "app", "Drainboard.Web.dll"), "--urls", address])
        {
            WorkingDirectory = folder,
            RedirectStandardOutput = true,
            Environment = { ["DRAINBOARD_DATA"] = Path.Combine(folder, "data"), ["DRAINBOARD_DATABASE"] = "", ["DRAINBOARD_DEMO"] = "" },
        })!;
        try
        {
            using var client = new HttpClient { BaseAddress = new Uri(address) };
            await UntilReadyAsync(client, service);

            foreach (var path in new[] { "/look.css", "/field.js", "/_content/MudBlazor/MudBlazor.min.css", "/_framework/blazor.web.js", "/fonts/atkinson-hyperlegible-next-latin-400-normal.woff2" })
            {
                Assert.NotEmpty(await client.GetByteArrayAsync(new Uri(path, UriKind.Relative), stop));
            }

            Assert.Contains("This is the demo", await client.GetStringAsync(new Uri("/sign-in", UriKind.Relative), stop), StringComparison.Ordinal);
            client.DefaultRequestHeaders.Add("X-Api-Key", (await File.ReadAllTextAsync(Path.Combine(folder, "data", "demo-api-key.txt"), stop)).Trim());
            Assert.Contains("QQ-MRA", await client.GetStringAsync(new Uri("/api/v1/tails", UriKind.Relative), stop), StringComparison.Ordinal);
        }
        finally
        {
            service.Kill(entireProcessTree: true);
            await service.WaitForExitAsync(CancellationToken.None);
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task UntilReadyAsync(HttpClient client, Process service)
    {
        for (var tries = 0; tries < 600 && !service.HasExited; tries++)
        {
            try
            {
                using var answer = await client.GetAsync(new Uri("/health/ready", UriKind.Relative), TestContext.Current.CancellationToken);
                if (answer.StatusCode == HttpStatusCode.OK)
                {
                    return;
                }
            }
            catch (HttpRequestException)
            {
                // Not listening yet.
            }

            await Task.Delay(200, TestContext.Current.CancellationToken);
        }

        Assert.Fail("The published program did not become ready.");
    }

    private static async Task RunAsync(string program, string[] args, string folder)
    {
        using var process = Process.Start(new ProcessStartInfo(program, args) { WorkingDirectory = folder, RedirectStandardOutput = true })!;
        var output = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.True(process.ExitCode == 0, output);
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
