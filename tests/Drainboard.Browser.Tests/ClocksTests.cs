using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>The controller's day on the Clocks page, at a desk and on a phone.</summary>
public sealed class ClocksTests(Chromium chromium)
{
    [Theory]
    [InlineData(DatabaseKind.Sqlite, 1280)]
    [InlineData(DatabaseKind.Postgres, 390)]
    public async Task Clock_ThatIsExtendedWhileThePageIsOpen_ChangesOnThePage(DatabaseKind kind, int width)
    {
        await using var host = await chromium.HostAsync(kind);
        var defect = await Situations.DeferredAsync(host);
        await using var device = await chromium.DeviceAsync(host, width);
        var page = await device.SignInAsync("control");
        await page.OpenAsync("/clocks");
        await Situations.WaitForPagesAsync(host, 1);
        await Expect(page.ClockOf("Aft galley sink 1")).ToContainTextAsync("00:00Z Fri 6 Feb");
        await Expect(page.ClockOf("Aft galley sink 1")).ToContainTextAsync("Last stay that can take it: QQAA");

        await Situations.ActAsync(host, "control", defect, "deferral/extension", new { days = 2, reason = "Part on order." });

        await Expect(page.ClockOf("Aft galley sink 1")).ToContainTextAsync("00:00Z Sun 8 Feb", new() { Timeout = 5000 });
        await Expect(page.ClockOf("Aft galley sink 1")).ToContainTextAsync("Tell the authority by 10:00Z Tue 27 Jan");
    }

    [Fact]
    public async Task Filters_AreTheAddress_AndArrowKeysMoveFromRowToRow()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.DeferredAsync(host);
        await Situations.DeferredAsync(host);
        await using var device = await chromium.DeviceAsync(host, 1280);
        var page = await device.SignInAsync("control");
        await page.OpenAsync("/clocks");
        await Situations.WaitForPagesAsync(host, 1);

        var rows = page.Locator("[data-row]");
        await rows.First.FocusAsync();
        await page.Keyboard.PressAsync("ArrowDown");
        await Expect(rows.Nth(1)).ToBeFocusedAsync();

        await page.GetByLabel("Category").SelectOptionAsync("B");
        await page.WaitForURLAsync("**/clocks?category=B");
        await page.SeesAsync("No clock is like this.");
        await page.FollowAsync("Within a day");
        await page.WaitForURLAsync("**shown=day**");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Within a day" })).ToHaveAttributeAsync("aria-current", "true");
        await page.GetByLabel("Station").SelectOptionAsync("QQAA");
        await page.WaitForURLAsync("**station=QQAA&category=B&shown=day");
    }

    /// <summary>F1 of the published example, worked out by hand on the page.</summary>
    [Fact]
    public async Task WorkItOut_WithThePublishedExample_GivesItsEnd()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("control");
        await page.OpenAsync("/clocks");
        await Situations.WaitForPagesAsync(host, 1);

        await page.GetByText("Work a clock out").ClickAsync();
        await page.Locator("#work-it-out").GetByLabel("Category", new() { Exact = true }).SelectOptionAsync("B");
        await page.GetByLabel("Recorded, in that zone").FillAsync("2026-01-26T10:00");
        await page.GetByLabel("Recorded, in that zone").BlurAsync();

        await Expect(page.Locator("#work-it-out")).ToContainTextAsync("Lapses 00:00Z Fri 30 Jan");
        await Expect(page.Locator("#work-it-out")).ToContainTextAsync("The day of the entry does not count");
    }

    /// <summary>The pilot and the senior crew member read what is carried and acknowledge it; a new item asks for it again.</summary>
    [Fact]
    public async Task DepartureSheet_OnAPhone_IsAcknowledgedAndAskedForAgainWhenItChanges()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.DeferredAsync(host);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("pilot");
        await page.OpenAsync("/tails/QQ-TSA");
        await page.FollowAsync("Departure sheet");
        await page.SeesAsync("MEL 38-01 rev 1, cat C");
        await page.PressAsync("I have read it, as pilot in command");
        await page.SeesAsync("Pilot Person");

        await Situations.DeferredAsync(host);
        await page.ReloadAsync();

        await page.SeesAsync("of an earlier sheet: it changed since");
    }

    [Fact]
    public async Task Follow_OfTheFleet_WarnsInTheBarAboveEveryPage()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.DeferredAsync(host);
        await using var device = await chromium.DeviceAsync(host, 1280);
        var page = await device.SignInAsync("control");
        await page.OpenAsync("/clocks/follow");
        await page.GetByLabel("Hours before").FillAsync("720");
        await page.PressAsync("Follow");
        await page.SeesAsync("720 h before");

        var warned = page.GetByRole(AriaRole.Link, new() { Name = "1 warning" });
        await Expect(warned).ToBeVisibleAsync(new() { Timeout = 10_000 });
        await warned.ClickAsync();
        await page.SeesAsync("QQ-TSA Aft galley sink 1, 38-01 cat C");
        await page.PressAsync("I have seen these");
        await Expect(warned).Not.ToBeVisibleAsync();
    }
}
