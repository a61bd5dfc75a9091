using System.Diagnostics;
using System.Globalization;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;

namespace Drainboard.Benchmarks;

/// <summary>How long the crew's report takes to be usable once the device keeps it, on a slow line and without one, against the same browser's blank page.</summary>
internal static class CrewLoad
{
    private const int Rounds = 15;

    public static async Task<int> RunAsync()
    {
        var (host, reason) = await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite, onPort: true);
        if (host is null)
        {
            Console.Error.WriteLine(reason);
            return 1;
        }

        await using (host)
        {
            using var playwright = await Playwright.CreateAsync();
            await using var browser = await playwright.Chromium.LaunchAsync(Browsers.Options());
            await using var tablet = await browser.NewContextAsync(new() { BaseURL = host.Address.ToString(), ViewportSize = new() { Width = 390, Height = 844 } });
            var page = await tablet.NewPageAsync();
            await page.GotoAsync("/report");
            await page.Locator("[data-ready]").WaitForAsync();
            await page.EvaluateAsync("async ([code, who, pin]) => { const people = await import('/report/people.js'); await people.enrol(code); await people.signIn(who, pin); await navigator.serviceWorker.ready; }", new[] { await Tablet.CodeAsync(host), "crew", SmallFleet.Pin });
            await page.GotoAsync("/report?tail=QQ-TSA");
            await page.Locator("[data-ready]").WaitForAsync();
            await page.WaitForLoadStateAsync(LoadState.NetworkIdle);

            var blank = await MedianAsync(page, "/icon.svg", "svg");
            var fast = await MedianAsync(page, "/report?tail=QQ-TSA&at=K-1", "[data-ready] form");
            // Chrome's own "Slow 3G": 400 kbit/s with two seconds' round trip.
            var session = await tablet.NewCDPSessionAsync(page);
            await session.SendAsync("Network.emulateNetworkConditions", new() { ["offline"] = false, ["latency"] = 2000, ["downloadThroughput"] = 50_000, ["uploadThroughput"] = 50_000 });
            var slow = await MedianAsync(page, "/report?tail=QQ-TSA&at=K-1", "[data-ready] form");
            await session.SendAsync("Network.emulateNetworkConditions", new() { ["offline"] = true, ["latency"] = 0, ["downloadThroughput"] = -1, ["uploadThroughput"] = -1 });
            var none = await MedianAsync(page, "/report?tail=QQ-TSA&at=K-1", "[data-ready] form");
            Console.WriteLine($"one picture of our own (baseline) {blank:0} ms; the report's form from the device: fast line {fast:0} ms ({fast / blank:0.0}), slow 3G {slow:0} ms ({slow / blank:0.0}), no connection {none:0} ms ({none / blank:0.0}); medians of {Rounds}".ToString(CultureInfo.InvariantCulture));
        }

        return 0;
    }

    private static async Task<double> MedianAsync(IPage page, string path, string ready)
    {
        var times = new List<double>();
        for (var round = 0; round < Rounds; round++)
        {
            var watch = Stopwatch.StartNew();
            await page.GotoAsync(path, new() { WaitUntil = WaitUntilState.Commit });
            await page.Locator(ready).First.WaitForAsync();
            times.Add(watch.Elapsed.TotalMilliseconds);
        }

        return times.Order().ElementAt(Rounds / 2);
    }
}
