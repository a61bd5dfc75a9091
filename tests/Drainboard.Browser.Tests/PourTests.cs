using System.Globalization;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>The timed pour on a phone: from the defect by the advice to the pour and back, and a watch that nothing stops but the button.</summary>
public sealed class PourTests(Chromium chromium)
{
    [Fact]
    public async Task SlowSink_FollowingTheAdvice_LeadsByAPourToWhatBothShare()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        var defect = await Situations.OpenAsync(host);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync($"/defects/{defect}");

        await page.FollowAsync("Where to look first");
        await page.SeesAsync("Aft galley sink 1: written up, drains slowly");
        await page.Locator("section[aria-labelledby=known]").GetByRole(AriaRole.Link, new() { NameRegex = new("^Aft galley sink 2") }).ClickAsync();
        await page.WaitForURLAsync("**/fixtures/K-2/pour**");
        await TimeAsync(page, "Slowly");
        await page.PressAsync("Save the pour");

        // Back at the fixture that was asked about, with what the pour said.
        await page.WaitForURLAsync("**/fixtures/K-1/where**");
        await page.SeesAsync("Saved at Aft galley sink 2: slow");
        await page.SeesAsync("Aft galley sink 2: poured: slow");
        await Expect(page.Locator("section[aria-labelledby=next]")).ToContainTextAsync("begin with Aft branch");
        await Expect(page.Locator("section[aria-labelledby=order] ol li").Nth(1)).ToContainTextAsync("Aft branch");
        await Expect(page.Locator("section[aria-labelledby=picture] svg a[aria-label*=': Aft branch, blocked with']")).ToHaveCountAsync(1);
        await page.FollowAsync("Do the work");
        await page.WaitForURLAsync($"**/defects/{defect}");
    }

    [Fact]
    public async Task Watch_ThroughAReloadAndALostConnection_KeepsItsTimeAndThePourIsSentOnce()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync("/tails/QQ-TSA/fixtures/K-1/pour");
        await page.PressAsync("Start");
        await page.WaitForTimeoutAsync(1200);

        // A phone that drops the page in the middle: the watch runs on.
        await page.ReloadAsync();
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Stop" })).ToBeVisibleAsync();
        await ConfirmAsync(page);
        await device.SetOfflineAsync(true);
        await page.PressAsync("Stop");
        var seconds = double.Parse(await page.GetByLabel("Seconds").InputValueAsync(), CultureInfo.InvariantCulture);
        Assert.True(seconds >= 1.2, $"The watch shows {seconds} s.");
        await page.ChooseAsync("Freely");
        await page.PressAsync("Save the pour");
        await Expect(page.Locator("#unsent")).ToContainTextAsync("Not sent: 1 on this device");

        // The next pour is a wish of its own, and the confirmations are asked again.
        await Expect(page.GetByRole(AriaRole.Checkbox, new() { NameRegex = new("on its stand") })).Not.ToBeCheckedAsync();
        await TimeAsync(page, "Slowly");
        await page.PressAsync("Save the pour");
        await Expect(page.Locator("#unsent")).ToContainTextAsync("Not sent: 2 on this device");

        await device.SetOfflineAsync(false);
        await Expect(page.Locator("#unsent")).ToBeHiddenAsync(new() { Timeout = 30_000 });
        var stored = (await (await host.ClientForAsync("tech")).ReadAsync("/api/v1/tails/QQ-TSA/fixtures/K-1/pours"))["pours"]!.AsArray();
        Assert.Equal(["freely", "slowly"], stored.Select(pour => pour!["run"]!.GetValue<string>()).Order(StringComparer.Ordinal));
        Assert.Contains(stored, pour => pour!["seconds"]!.GetValue<double>() == seconds);
    }

    [Fact]
    public async Task Pour_Refused_KeepsWhatWasTypedAndTheWatchGoesOn()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync("/tails/QQ-TSA/fixtures/K-1/pour");
        await ConfirmAsync(page);
        await page.ChooseAsync("From mark to mark");
        await page.GetByLabel("From, mm").FillAsync("20");
        await page.GetByLabel("To, mm").FillAsync("120");
        await page.GetByLabel("Seconds").FillAsync("18.4");
        await page.ChooseAsync("Freely");
        await page.PressAsync("Save the pour");

        await page.IsRefusedAsync("the upper one first");
        await Expect(page.GetByLabel("Seconds")).ToHaveValueAsync("18.4");
        await Expect(page.GetByRole(AriaRole.Checkbox, new() { NameRegex = new("on its stand") })).ToBeCheckedAsync();
        await page.PressAsync("Start");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Stop" })).ToBeVisibleAsync();
    }

    [Fact]
    public async Task Pour_EnteredInError_IsWithdrawnOnItsPage()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.PourAsync(host, "K-2", 18, reference: true);
        await Situations.PourAsync(host, "K-2", 40);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync("/tails/QQ-TSA/fixtures/K-2/pours");
        await page.GetByText("Entered in error?").First.ClickAsync();
        await page.GetByLabel("Why?").First.FillAsync("wrong sink");
        await page.GetByRole(AriaRole.Button, new() { Name = "Withdraw this pour" }).First.ClickAsync();

        await page.SeesAsync("Withdrawn, entered in error: wrong sink");
        await Expect(page.GetByText("Entered in error?")).ToHaveCountAsync(1);
    }

    [Fact]
    public async Task LeakCheck_PlaceByPlace_PassesOnlyWhenAllIsDry()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        var defect = await Situations.WorkDoneAsync(host);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync($"/defects/{defect}/leak-check");
        var places = await page.GetByRole(AriaRole.Group).AllAsync();
        Assert.True(places.Count >= 4, $"Only {places.Count} places.");
        foreach (var place in places)
        {
            await place.Locator("label.choice", new() { HasText = "Dry" }).ClickAsync();
        }

        await places[1].Locator("label.choice", new() { HasText = "Wet" }).ClickAsync();
        await page.PressAsync("Save the leak check");

        await page.WaitForURLAsync($"**/defects/{defect}");
        await page.SeesAsync("LEAK FOUND");
        await page.SeesAsync("Supply hoses and shut-off valve below Aft galley sink 1: WET");
    }

    private static async Task ConfirmAsync(IPage page)
    {
        foreach (var words in new[] { "on its stand", "under the mast", "Discharge is allowed" })
        {
            await page.ChooseAsync(words);
        }

        await page.ChooseAsync("A jug until empty");
        await page.GetByLabel("Jug, litres").FillAsync("2");
    }

    private static async Task TimeAsync(IPage page, string run)
    {
        await ConfirmAsync(page);
        await page.PressAsync("Start");
        await page.PressAsync("Stop");
        await page.GetByLabel("Seconds").FillAsync("31.5");
        await page.ChooseAsync(run);
    }
}
