using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>Typed text on a field page survives a dead network and a reload, and is sent once.</summary>
public sealed class OutboxTests(Chromium chromium)
{
    [Fact]
    public async Task Form_SentWithoutANetwork_SaysSoKeepsItAndSendsItByItself()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        var defect = await Situations.OpenAsync(host);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync($"/defects/{defect}/correct");

        await device.SetOfflineAsync(true);
        await page.GetByLabel("What is corrected?").FillAsync("It was the sink at the door side.");
        await page.PressAsync("Add the correction");
        await Expect(page.Locator("#unsent")).ToContainTextAsync("Not sent: 1 on this device");

        await device.SetOfflineAsync(false);
        await page.WaitForURLAsync($"**/defects/{defect}");
        await Expect(page.Locator("#unsent")).ToBeHiddenAsync();
        await page.OpenAsync($"/defects/{defect}");
        await Expect(page.GetByText("Correction: It was the sink at the door side.")).ToHaveCountAsync(1);
    }

    [Fact]
    public async Task Text_TypedAndNotSent_IsBackAfterAReload()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        var defect = await Situations.OpenAsync(host);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync($"/defects/{defect}/work");

        await page.GetByLabel("What was done?").FillAsync("Strainer out; waiting for hot water.");
        await page.ChooseAsync("Coffee grounds");
        await page.WaitForTimeoutAsync(300);
        await page.ReloadAsync();

        await Expect(page.GetByLabel("What was done?")).ToHaveValueAsync("Strainer out; waiting for hot water.");
        await Expect(page.GetByRole(AriaRole.Radio, new() { Name = "Coffee grounds" })).ToBeCheckedAsync();
    }

    /// <summary>A shared phone: what one person left waiting is never sent or shown under the next person's name.</summary>
    [Fact]
    public async Task Form_LeftWaitingByOnePerson_IsNotSentByTheNext()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        var defect = await Situations.OpenAsync(host);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync($"/defects/{defect}/correct");
        await device.SetOfflineAsync(true);
        await page.GetByLabel("What is corrected?").FillAsync("Tech's own words.");
        await page.PressAsync("Add the correction");
        await Expect(page.Locator("#unsent")).ToContainTextAsync("Not sent");

        await page.CloseAsync();
        await device.ClearCookiesAsync();
        await device.SetOfflineAsync(false);
        var next = await device.SignInAsync("cert");
        await next.OpenAsync($"/defects/{defect}/correct");

        await Expect(next.GetByLabel("What is corrected?")).ToHaveValueAsync("");
        await Expect(next.Locator("#unsent")).ToBeHiddenAsync();
        await next.OpenAsync($"/defects/{defect}");
        await Expect(next.GetByText("Tech's own words.")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task Form_WithScriptSwitchedOff_StillWorks()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        var defect = await Situations.OpenAsync(host);
        await using var device = await chromium.Browser!.NewContextAsync(new() { BaseURL = host.Address.ToString(), JavaScriptEnabled = false, ViewportSize = new() { Width = 390, Height = 844 } });
        var page = await device.SignInAsync("tech");

        await page.GotoAsync($"/defects/{defect}/correct");
        await page.GetByLabel("What is corrected?").FillAsync("Without script.");
        await page.PressAsync("Add the correction");

        await page.SeesAsync("Correction: Without script.");
    }
}
