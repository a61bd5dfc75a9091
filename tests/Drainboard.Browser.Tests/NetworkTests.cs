using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>Control plans which stay takes a carried item, asks what if the station were closed, and gives the plan out; a lead may look and not plan.</summary>
public sealed class NetworkTests(Chromium chromium)
{
    [Theory]
    [InlineData(DatabaseKind.Sqlite, 1280)]
    [InlineData(DatabaseKind.Postgres, 390)]
    public async Task Control_PlansTheNetwork_AndClocksShowIt(DatabaseKind kind, int width)
    {
        await using var host = await chromium.HostAsync(kind);
        await Situations.DeferredAsync(host);
        await using var desk = await chromium.DeviceAsync(host, width);
        var control = await desk.SignInAsync("control");
        await control.OpenAsync("/clocks");
        await control.FollowAsync("Which stay takes it");
        await control.WaitForURLAsync("**/network");
        await Situations.WaitForPagesAsync(host, 1);
        await control.GetByLabel("Look ahead").SelectOptionAsync("14");
        await control.SeesAsync("One at stake within 14 days.");
        await control.Locator("summary", new() { HasText = "Every stay" }).ClickAsync();
        await control.SeesAsync("can take it,");

        await control.Locator("summary", new() { HasText = "What if" }).ClickAsync();
        await control.GetByLabel("A station is closed").SelectOptionAsync("QQAA");
        await control.PressAsync("What then?");
        await control.SeesAsync("Without it 0 would be late; with it 1.");
        await control.SeesAsync("Newly late: QQ-TSA Aft galley sink 1");
        await control.GetByLabel("A station is closed").SelectOptionAsync("");
        await control.PressAsync("Plan it afresh");
        await control.SeesAsync("Everything at stake has a stay.");
        await control.PressAsync("Give it out");
        await control.SeesAsync("Given out by Control Person");
        await control.OpenAsync("/clocks");
        await control.SeesAsync("Planned for QQAA, here now.");

        await using var other = await chromium.DeviceAsync(host, width);
        var lead = await other.SignInAsync("lead");
        await lead.OpenAsync("/network");
        await lead.SeesAsync("Given out by Control Person");
        await Expect(lead.GetByRole(AriaRole.Button, new() { Name = "Plan it", Exact = false })).ToHaveCountAsync(0);
    }
}
