using Drainboard.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>What crew do on the report page, by the words that they see.</summary>
internal static class CrewPages
{
    public const string Sink = "/report?tail=QQ-TSA&at=K-1";

    /// <summary>A shared tablet, enrolled, with somebody signed in by PIN and everything fetched that works without a connection.</summary>
    public static async Task<IPage> TabletAsync(this IBrowserContext device, DrainboardHost host, string who = "crew", string path = "/report?tail=QQ-TSA")
    {
        var page = await device.NewPageAsync();
        await page.OpenAsync(path);
        await page.GetByLabel("Enrolment code").FillAsync(await Tablet.CodeAsync(host));
        await page.PressAsync("Enrol this device");
        await page.PinAsync(who);
        await page.SettleAsync();
        return page;
    }

    public static async Task PinAsync(this IPage page, string who, string pin = SmallFleet.Pin)
    {
        await page.GetByLabel("User name").FillAsync(who);
        await page.GetByLabel("PIN", new() { Exact = true }).FillAsync(pin);
        await page.PressAsync("Sign in");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Lock" })).ToBeVisibleAsync();
    }

    /// <summary>Waits until the worker keeps the page and what is known of the aircraft is fetched.</summary>
    public static async Task SettleAsync(this IPage page)
    {
        await page.EvaluateAsync("async () => { await navigator.serviceWorker.ready; while (!navigator.serviceWorker.controller) await new Promise(done => setTimeout(done, 50)); }");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
    }

    /// <summary>A whole report of a slow drain at one sink, as far as the saving tap.</summary>
    public static async Task ReportSlowAsync(this IPage page, string path = Sink, bool photo = false, string? words = null)
    {
        await page.OpenAsync(path);
        await page.ChooseAsync("Drains slowly");
        await page.ChooseAsync("No, I looked");
        await page.ChooseAsync("In flight");
        if (photo || words is not null)
        {
            await page.GetByText("Words, photos, time, log line").ClickAsync();
        }

        if (words is not null)
        {
            await page.GetByLabel("More, if it helps").FillAsync(words);
        }

        if (photo)
        {
            await page.GetByLabel("Photos").SetInputFilesAsync(new FilePayload { Name = "sink.jpg", MimeType = "image/jpeg", Buffer = TestPhotos.FromAPhone(1200, 900) });
            await Expect(page.Locator(".shot img")).ToHaveCountAsync(1);
        }

        await page.PressAsync("Save report");
        await Expect(page.Locator("#saved")).ToBeVisibleAsync();
    }

    /// <summary>Presses the button of the bar, unless what waited has gone by itself meanwhile.</summary>
    public static async Task SendNowAsync(this IPage page)
    {
        var button = page.GetByRole(AriaRole.Button, new() { Name = "Send now", Exact = true });
        try
        {
            await button.ClickAsync(new() { Timeout = 3000 });
        }
        catch (TimeoutException) when (page.Locator("#unsent").IsHiddenAsync().GetAwaiter().GetResult())
        {
            // It has gone.
        }
    }

    /// <summary>Everything has arrived: nothing waits on this device.</summary>
    public static Task IsAllSentAsync(this IPage page) => Expect(page.Locator("#unsent")).ToBeHiddenAsync(new() { Timeout = 30_000 });

    public static Task WaitsAsync(this IPage page, string words) => Expect(page.Locator("#unsent")).ToContainTextAsync(words);
}
