using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>A coliform-positive sample, from the way that control chooses to the signature that gives access back; crew and Board know of it meanwhile.</summary>
public sealed class WaterTests(Chromium chromium)
{
    [Theory]
    [InlineData(DatabaseKind.Sqlite, 390)]
    [InlineData(DatabaseKind.Postgres, 1280)]
    public async Task Coliform_IsRestrictedDisinfectedSampledAndLifted(DatabaseKind kind, int width)
    {
        await using var host = await chromium.HostAsync(kind);
        await Situations.ColiformAsync(host);
        await using var desk = await chromium.DeviceAsync(host, width);
        var control = await desk.SignInAsync("control");
        await control.OpenAsync("/water");
        await control.SeesAsync("a case runs");
        await control.FollowAsync("QQ-TSA");
        await control.SeesAsync("Choose one way, and go it whole.");
        await control.ChooseAsync("Restrict access within 72 hours");
        await control.PressAsync("Go this way");
        await control.SeesAsync("Tap water is not served and not used");

        await using var phone = await chromium.DeviceAsync(host, 390);
        var tech = await phone.SignInAsync("tech");
        await tech.OpenAsync("/board/QQAA");
        await tech.SeesAsync("Drinking water is not served: Coliform-positive routine sample.");
        await tech.OpenAsync("/tails/QQ-TSA/water");
        await tech.PressAsync("Done now: Restrict access: shut off or prevent flow where feasible, give notice, give alternatives");
        await Expect(tech.GetByRole(AriaRole.Button, new() { Name = "Done now: Restrict access", Exact = false })).ToHaveCountAsync(0);
        await tech.GetByText("Disinfection, inspection, deficiency").ClickAsync();
        await tech.SeesAsync("never mixed with an acid or another cleaner");
        await tech.ChooseAsync("Disinfected and flushed");
        await tech.PressAsync("Save it");
        await tech.IsRefusedAsync("Name the work order or log page");
        await tech.GetByLabel("Work order or log page; for a deficiency, what it is").FillAsync("WO 17");
        await tech.PressAsync("Save it");
        await tech.GetByText("Enter the follow-up set").ClickAsync();
        await tech.Locator("form[data-keep^='samples-FollowUp']").GetByRole(AriaRole.Button, new() { Name = "Save the samples" }).ClickAsync();
        await tech.SeesAsync("The rule's condition holds");

        await using var tablet = await chromium.DeviceAsync(host, 820);
        var crew = await tablet.SignInAsync("crew");
        await crew.OpenAsync("/report?tail=QQ-TSA&view=usable");
        await Expect(crew.GetByText("Tap water is not served.")).ToBeVisibleAsync();

        await control.OpenAsync("/tails/QQ-TSA/water");
        await control.GetByLabel("Your signing code").FillAsync(SmallFleet.SigningCode);
        await control.PressAsync("Give access back");
        await control.SeesAsync("Lifted: the rule's condition holds.");
        await Expect(control.GetByText("Tap water is not served and not used")).ToHaveCountAsync(0);
    }
}
