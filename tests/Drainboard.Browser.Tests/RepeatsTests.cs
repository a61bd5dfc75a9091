using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>From a list that nobody has worked out yet to the one fixture, at a desk and on a phone.</summary>
public sealed class RepeatsTests(Chromium chromium)
{
    [Theory]
    [InlineData(DatabaseKind.Sqlite, 1280)]
    [InlineData(DatabaseKind.Postgres, 390)]
    public async Task Standings_WorkedOutByHand_LeadToTheFixtureAndWhatWasTried(DatabaseKind kind, int width)
    {
        await using var host = await chromium.HostAsync(kind);
        for (var time = 0; time < 3; time++)
        {
            await Situations.ReleasedAsync(host);
            host.Clock.AdvanceDays(2);
        }

        await using var device = await chromium.DeviceAsync(host, width);
        var page = await device.SignInAsync("control");
        await page.OpenAsync("/repeats");
        await Situations.WaitForPagesAsync(host, 1);
        await page.PressAsync("Work out anew");
        await Expect(page.GetByText("snapshot", new() { Exact = false }).First).ToBeVisibleAsync();

        // Its news may come before the work itself has ended.
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Give it up" })).ToHaveCountAsync(0);
        await page.GetByRole(AriaRole.Combobox, new() { Name = "Fixture", Exact = true }).SelectOptionAsync("GalleySink");
        await page.WaitForURLAsync("**/repeats?kind=galleySink");
        await page.SeesAsync("3 in ");
        await page.GetByLabel("Layout").SelectOptionAsync("T1");
        await page.WaitForURLAsync("**layout=T1&kind=galleySink");
        await page.FollowAsync("QQ-TSA Aft galley sink 1");
        await page.SeesAsync("Why it comes back");
        await page.SeesAsync("3 write-ups of this kind in 6 days");
        await page.SeesAsync("Coffee grounds, Strainer of sink 1: three times");
        await page.OpenAsync("/tails/QQ-TSA/fixtures/K-1");
        await page.SeesAsync("3 write-ups of this kind in 6 days");
    }

    /// <summary>Who only looks is not offered what they may not do.</summary>
    [Fact]
    public async Task Standings_ForATechnician_AreToBeReadOnly()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host, 1280);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync("/repeats");
        await page.SeesAsync("Nothing has been worked out yet");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Work out anew" })).ToHaveCountAsync(0);
    }
}
