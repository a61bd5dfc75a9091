using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>A lead plans a shift and gives it out; the technician has it on the phone, and whether it fits on the item.</summary>
public sealed class ShiftPlanTests(Chromium chromium)
{
    [Theory]
    [InlineData(DatabaseKind.Sqlite, 1280)]
    [InlineData(DatabaseKind.Postgres, 390)]
    public async Task Lead_PlansAndGivesOut_AndTheTechnicianHasTheirList(DatabaseKind kind, int width)
    {
        await using var host = await chromium.HostAsync(kind);
        await Situations.OpenAsync(host);
        await using var desk = await chromium.DeviceAsync(host, width);
        var lead = await desk.SignInAsync("lead");
        await lead.OpenAsync("/turns/QQAA");
        await lead.SeesAsync("Aft galley sink 1");
        await lead.FollowAsync("Shift plan");
        await lead.WaitForURLAsync("**/plan**");
        await lead.OpenAsync("/plan/QQAA");
        await Situations.WaitForPagesAsync(host, 1);
        await lead.SeesAsync("What could be done");
        foreach (var other in new[] { "Unnumbered Person", "Expired Person", "Contract Person", "Cert Person" })
        {
            await lead.GetByRole(AriaRole.Checkbox, new() { Name = other, Exact = false }).UncheckAsync();
        }

        await lead.PressAsync("Plan it");
        await lead.SeesAsync("No plan is worth more.");
        await lead.SeesAsync("Will it hold?");
        await lead.GetByText("Pin or rule out").First.ClickAsync();
        await lead.GetByRole(AriaRole.Checkbox, new() { Name = "Not in this shift" }).First.CheckAsync();
        await lead.PressAsync("Plan it afresh");
        await lead.SeesAsync("Taken out by the lead.");
        await lead.Locator("summary", new() { HasText = "Not in this shift" }).ClickAsync();
        await lead.GetByRole(AriaRole.Checkbox, new() { Name = "Not in this shift" }).First.UncheckAsync();
        await lead.PressAsync("Plan it afresh");
        await Expect(lead.GetByText("Taken out by the lead.")).ToHaveCountAsync(0);
        await lead.PressAsync("Give it out");
        await lead.SeesAsync("Given out. Each technician has their list.");
        await lead.SeesAsync("Given out by Lead Person");

        await using var phone = await chromium.DeviceAsync(host, 390);
        var tech = await phone.SignInAsync("tech");
        await tech.OpenAsync("/mine");
        await tech.FollowAsync("Aft galley sink 1");
        await tech.SeesAsync("fits: ");
        await tech.PressAsync("I have it");
        await lead.SeesAsync("Tech Person has it");
    }

    /// <summary>At a desk an item is dragged to somebody else: it is pinned to them and planned again.</summary>
    [Fact]
    public async Task Lead_DragsAnItemToSomebodyElse_AndItIsPinnedThere()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.OpenAsync(host);
        await using var desk = await chromium.DeviceAsync(host, 1280);
        var lead = await desk.SignInAsync("lead");
        await lead.OpenAsync("/plan/QQAA");
        await Situations.WaitForPagesAsync(host, 1);
        await lead.PressAsync("Plan it");
        await lead.SeesAsync("No plan is worth more.");
        var axis = lead.GetByRole(AriaRole.Group, new() { Name = "People and items over the shift" });
        foreach (var name in new[] { "Cert Person", "Tech Person" })
        {
            await axis.GetByRole(AriaRole.Link).First.DragToAsync(axis.Locator(".lane", new() { HasText = name }), new() { Steps = 12 });
            await Expect(axis.Locator(".lane", new() { HasText = name }).GetByRole(AriaRole.Link)).ToHaveCountAsync(1);
            await lead.SeesAsync($"Pinned to {name}");
        }
    }

    /// <summary>Who may not plan sees the plan and no button; a shift that ends before it begins is said to.</summary>
    [Fact]
    public async Task Plan_ForATechnician_IsToBeReadOnly()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host, 1280);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync("/plan/QQAA");
        await page.SeesAsync("Nothing is open on the aircraft of this shift.");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Plan it" })).ToHaveCountAsync(0);
    }
}
