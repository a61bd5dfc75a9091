using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>Ramp servicing by phone: two panels, two forms, with and without a connection, and what they make of the balance.</summary>
public sealed class TanksTests(Chromium chromium)
{
    [Theory]
    [InlineData(DatabaseKind.Sqlite)]
    [InlineData(DatabaseKind.Postgres)]
    public async Task Panels_AreTwoForms_AndASecondServiceWaitsBesideTheFirst(DatabaseKind kind)
    {
        await using var host = await chromium.HostAsync(kind);
        var admin = await host.ClientForAsync("admin");
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/layouts/T1/tanks", new { id = NewId.At(host.Clock.GetCurrentInstant()), potableLitres = 200, wasteLitres = 100 })).Status);
        await using var phone = await chromium.DeviceAsync(host, 390);
        var tech = await phone.SignInAsync("tech");
        await tech.OpenAsync("/tails/QQ-TSA");
        await tech.FollowAsync("Potable tank");
        await tech.SeesAsync("Clean before dirty.");
        await tech.SeesAsync("No full uplift is on record");
        await FillAsync(tech, "Litres taken on", "250");
        await tech.GetByLabel("Watering point, truck or cart").FillAsync("Cart 4");
        await tech.ChooseAsync("The tank is full now");

        // More than the tank holds: refused in words, and what was typed stands.
        await tech.PressAsync("Save the uplift");
        await tech.IsRefusedAsync("more than the tank holds");
        await Expect(tech.GetByLabel("Watering point, truck or cart")).ToHaveValueAsync("Cart 4");
        await FillAsync(tech, "Litres taken on", "120");
        await tech.PressAsync("Save the uplift");
        await tech.SeesAsync("About 200 L of 200 L now");

        // Two services without a connection are two wishes, and both come in.
        await phone.SetOfflineAsync(true);
        foreach (var (sent, litres) in new[] { "7", "9" }.Index())
        {
            await FillAsync(tech, "Litres taken on", litres);
            await tech.GetByLabel("Watering point, truck or cart").FillAsync("Cart 5");
            await TickPanelAsync(tech);
            await tech.PressAsync("Save the uplift");
            await Expect(tech.Locator("#unsent")).ToContainTextAsync($"Not sent: {sent + 1} on this device");
        }

        await phone.SetOfflineAsync(false);
        await Expect(tech.Locator("#unsent")).ToBeHiddenAsync(new() { Timeout = 30_000 });
        await tech.OpenAsync("/tails/QQ-TSA/potable");
        await tech.SeesAsync("7 L from Cart 5");
        await tech.SeesAsync("9 L from Cart 5");

        await tech.OpenAsync("/tails/QQ-TSA/waste");
        await Expect(tech.GetByText("Watering point, truck or cart")).ToHaveCountAsync(0);
        await FillAsync(tech, "Pre-charge", "10");
        await TickPanelAsync(tech);
        await tech.Locator("button.go").First.ClickAsync();
        await tech.SeesAsync("About 10 L of 100 L now");
    }

    [Fact]
    public async Task ShutOff_ShowsWhatGoesDry_AndWhatToPowerOffFirst()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var phone = await chromium.DeviceAsync(host, 390);
        var tech = await phone.SignInAsync("tech");
        await tech.OpenAsync("/tails/QQ-TSA/potable");
        await tech.GetByRole(AriaRole.Navigation, new() { Name = "Shut off at" }).GetByRole(AriaRole.Link).First.ClickAsync();
        await tech.SeesAsync("dry:");
        await tech.SeesAsync("Without a rinse, and so locked and placarded");
        await tech.SeesAsync("Shutting the supply does not stop a leak of what is already in a drain.");
    }

    private static async Task FillAsync(IPage page, string label, string value)
    {
        await page.GetByLabel(label).First.FillAsync(value);
        await TickPanelAsync(page);
    }

    private static async Task TickPanelAsync(IPage page)
    {
        foreach (var name in new[] { "Cap on and locked", "Door closed and latched" })
        {
            if (!await page.GetByRole(AriaRole.Checkbox, new() { Name = name }).IsCheckedAsync())
            {
                await page.ChooseAsync(name);
            }
        }
    }
}
