using Drainboard.Testing.Databases;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>The plumbing picture on a phone, by finger and by keyboard, and the drawing of a layout.</summary>
public sealed class PlumbingTests(Chromium chromium)
{
    [Fact]
    public async Task Picture_OnAPhone_IsReadableReachableByKeyboardAndTheSameInWords()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.OpenAsync(host);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync("/tails/QQ-TSA?around=DM-A#plumbing");
        var picture = page.Locator("#plumbing svg");

        // Names are read at arm's length, and a fixture's line is a finger wide.
        var size = await picture.Locator("text.name").First.EvaluateAsync<double>("text => text.getBoundingClientRect().height");
        Assert.True(size >= 13, $"Names are {size} px high.");
        var line = await picture.Locator("a").First.EvaluateAsync<double>("link => link.querySelector('.hit').getBoundingClientRect().height");
        Assert.True(line >= 44, $"A line is {line} px high.");

        await page.GetByRole(AriaRole.Link, new() { Name = "Aft galley sink 1, open, not poured" }).FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForURLAsync("**/fixtures/K-1");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Time a pour" })).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Report something here" })).ToBeVisibleAsync();

        await page.GetByText("The same in words").ClickAsync();
        await Expect(page.Locator("#plumbing .tree").First).ToContainTextAsync("Aft galley sink 1 K-1, open, not poured");
        await page.FollowAsync("Supply");
        await Expect(page.Locator("#plumbing figcaption")).ToContainTextAsync("Water comes from the right, from Potable tank");
    }

    [Fact]
    public async Task Layout_BrokenAndMended_SaysWhatIsWrongAndIsSavedAsTheNextVersion()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host, 1280);
        var page = await device.SignInAsync("admin");
        await page.OpenAsync("/set-up/layouts");
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Change T1") }).ClickAsync();
        await page.SeesAsync("The drawing is sound.");

        // By the picture: a place on it opens its line.
        await page.PressAsync("Aft drain mast");
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new("^BR-A: Aft branch") }).ClickAsync();
        await Expect(page.GetByLabel("Position", new() { Exact = true })).ToHaveValueAsync("BR-A");

        await page.GetByLabel("Drains into").FillAsync("S-1");
        await page.GetByLabel("Drains into").PressAsync("Tab");
        await page.SeesAsync("runs in a circle");
        await page.PressAsync("Save as the next version");
        await page.IsRefusedAsync("runs in a circle");

        await page.GetByLabel("Drains into").FillAsync("DM-A");
        await page.GetByLabel("Behind panel (if shared)").FillAsync("Aft lower panel");
        await page.GetByLabel("Behind panel (if shared)").PressAsync("Tab");
        await page.SeesAsync("The drawing is sound.");
        await page.ChooseAsync("The tails of T1 fly with it from now on");
        await page.PressAsync("Save as the next version");
        await page.SeesAsync("Layout T1 version 2 was drawn");
        await page.SeesAsync("3 tails fly with it");
    }
}
