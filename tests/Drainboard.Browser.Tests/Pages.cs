using Drainboard.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>What people do on pages, by the words that they see. Selectors live here and nowhere else.</summary>
internal static class Pages
{
    public static async Task<IPage> SignInAsync(this IBrowserContext device, string userName)
    {
        var page = await device.NewPageAsync();
        await page.GotoAsync("/sign-in");
        await page.GetByLabel("User name").FillAsync(userName);
        await page.GetByLabel("Password").FillAsync(SmallFleet.Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await page.WaitForURLAsync(url => !url.Contains("/sign-in", StringComparison.Ordinal));
        return page;
    }

    /// <summary>Chooses a big radio or tick by its words. The words cover the control, so the label is what a finger meets.</summary>
    public static Task ChooseAsync(this IPage page, string words, string? group = null)
    {
        var within = group is null ? page.Locator("main") : page.GetByRole(AriaRole.Group, new() { Name = group });
        return within.Locator("label.choice", new() { HasText = words }).First.ClickAsync();
    }

    public static Task PressAsync(this IPage page, string words) => page.GetByRole(AriaRole.Button, new() { Name = words, Exact = true }).ClickAsync();

    public static Task FollowAsync(this IPage page, string words) => page.GetByRole(AriaRole.Link, new() { Name = words, Exact = true }).First.ClickAsync();

    public static async Task FillLogAsync(this IPage page, string pageNumber, string line, string? at = null)
    {
        await page.GetByLabel("Page", new() { Exact = true }).FillAsync(pageNumber);
        await page.GetByLabel("Line", new() { Exact = true }).FillAsync(line);
        if (at is not null)
        {
            await page.GetByLabel("Time of the entry, station local").FillAsync(at);
        }
    }

    /// <summary>The line of a running clock on the controller's page.</summary>
    public static ILocator ClockOf(this IPage page, string fixture) => page.GetByRole(AriaRole.List, new() { Name = "Running clocks" }).GetByRole(AriaRole.Listitem).Filter(new() { HasText = fixture }).First;

    public static Task SeesAsync(this IPage page, string words) => Expect(page.Locator("main")).ToContainTextAsync(words);

    public static Task IsRefusedAsync(this IPage page, string words) => Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync(words);

    /// <summary>Opens a person's page and waits until its scripts are bound, as a person would before the first tap.</summary>
    public static async Task OpenAsync(this IPage page, string path)
    {
        await page.GotoAsync(path);
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        if (path.StartsWith("/report", StringComparison.Ordinal))
        {
            await page.Locator("[data-ready]").WaitForAsync();
        }
    }
}
