using System.Text.RegularExpressions;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>The main job on a phone, end to end, with everybody on a device of their own.</summary>
public sealed class JourneyTests(Chromium chromium)
{
    [Theory]
    [InlineData(DatabaseKind.Sqlite)]
    [InlineData(DatabaseKind.Postgres)]
    public async Task SlowGalleySink_FromTheCrewsReportToTheSignedClose(DatabaseKind kind)
    {
        await using var host = await chromium.HostAsync(kind);
        await using var board = await chromium.DeviceAsync(host);
        await using var crew = await chromium.DeviceAsync(host);
        await using var stand = await chromium.DeviceAsync(host);
        await using var control = await chromium.DeviceAsync(host);
        await using var certifier = await chromium.DeviceAsync(host);

        // The shift lead has the Board open.
        var boardPage = await board.SignInAsync("lead");
        await Expect(boardPage.GetByRole(AriaRole.Heading, new() { Name = "QQAA Board" })).ToBeVisibleAsync();
        await Situations.WaitForPagesAsync(host, 1);

        // Crew reports a slow galley sink with no leak.
        var crewPage = await crew.SignInAsync("crew");
        await crewPage.Clock.SetSystemTimeAsync(host.Clock.GetCurrentInstant().ToDateTimeUtc());
        await crewPage.OpenAsync("/report");
        await crewPage.GetByRole(AriaRole.Button, new() { Name = "QQ-TSA" }).ClickAsync();
        await crewPage.GetByRole(AriaRole.Button, new() { Name = "Aft galley sink 2" }).ClickAsync();
        await crewPage.ChooseAsync("Drains slowly");
        await crewPage.ChooseAsync("No, I looked");
        await crewPage.PressAsync("Save report");
        await Expect(crewPage.Locator("#saved")).ToContainTextAsync("Received: QQ-TSA 1");
        var defect = await Situations.NewestAsync(host);

        // It shows on the open Board, without a reload.
        await Expect(boardPage.Locator("article", new() { HasText = "QQ-TSA" })).ToContainTextAsync("Aft galley sink 2", new() { Timeout = 2000 });

        // The technician looks at the fixture, sorts, and prepares a deferral under a category C item.
        var techPage = await stand.SignInAsync("tech");
        await techPage.OpenAsync("/tails/QQ-TSA/fixtures/K-2");
        await techPage.SeesAsync("Strainer of sink 2");
        await techPage.SeesAsync("Aft galley sink 1");
        await techPage.FollowAsync("Aft galley sink 2");
        await techPage.FollowAsync("Sort this report");
        await techPage.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await techPage.ChooseAsync("No, I looked");
        await techPage.ChooseAsync("Technical log");
        await techPage.FillLogAsync("0412", "3", "2026-01-26T10:00");
        await techPage.PressAsync("Sort: it is open");
        await techPage.SeesAsync("Tech log 0412-3");
        await techPage.FollowAsync("Propose a deferral");
        await techPage.GetByRole(AriaRole.Link, new() { Name = "38-01" }).ClickAsync();
        await techPage.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await techPage.ChooseAsync("Looked at the trap");
        await techPage.ChooseAsync("Galley crew told");
        await techPage.ChooseAsync("Fitted");
        await techPage.GetByLabel("Where?").FillAsync("above the sink");
        await techPage.PressAsync("Propose it");
        await techPage.SeesAsync("control has not authorised it");

        // A person without the role is not offered it and is refused.
        await techPage.OpenAsync($"{defect}/authorise");
        await techPage.PressAsync("Authorise the deferral");
        await techPage.IsRefusedAsync("This is for: maintenance controller");

        // Control authorises, the certifying technician signs, the clock runs on the controller's page.
        var controlPage = await control.SignInAsync("control");
        await controlPage.OpenAsync(defect);
        await controlPage.FollowAsync("Authorise the deferral");
        await controlPage.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await controlPage.GetByLabel("Control reference").FillAsync("MC-4711");
        await controlPage.PressAsync("Authorise the deferral");
        await controlPage.SeesAsync("the certifying technician has not signed");
        var certPage = await certifier.SignInAsync("cert");
        await certPage.OpenAsync(defect);
        await certPage.FollowAsync("Certify the deferral");
        await certPage.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await certPage.GetByLabel("Your signing code").FillAsync(SmallFleet.SigningCode);
        await certPage.PressAsync("Sign the deferral");
        await certPage.SeesAsync("Deferred: MEL 38-01 rev 1, cat C");
        await controlPage.OpenAsync("/clocks");
        await Expect(controlPage.ClockOf("Aft galley sink 2")).ToContainTextAsync("10 d 14 h");
        await Expect(controlPage.ClockOf("Aft galley sink 2")).ToContainTextAsync("00:00Z Fri 6 Feb");

        // Next day the technician rectifies; a leak check is missing at first, and the release is refused.
        host.Clock.AdvanceHours(22);
        await techPage.OpenAsync(defect);
        await techPage.FollowAsync("Record the work in own words");
        await techPage.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await techPage.ChooseAsync("Coffee grounds");
        await techPage.ChooseAsync("Strainer of sink 2");
        await techPage.GetByLabel("What was done?").FillAsync("Strainer opened, cleaned and refitted.");
        await techPage.GetByLabel("Approved manual reference").FillAsync("TEST-AMM 38-31");
        await techPage.ChooseAsync("Flows as it should");
        await techPage.PressAsync("Work done");
        await techPage.SeesAsync("Work done, not released");

        await certPage.OpenAsync(defect);
        await certPage.FollowAsync("Release");
        await certPage.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await certPage.ChooseAsync("Rectified");
        await certPage.FillLogAsync("0413", "1");
        await certPage.GetByLabel("Your signing code").FillAsync(SmallFleet.SigningCode);
        await certPage.PressAsync("Sign");
        await certPage.IsRefusedAsync("No leak check is recorded");

        await techPage.FollowAsync("Record a check");
        await techPage.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await techPage.ChooseAsync("Dry at every joint touched");
        await techPage.PressAsync("Save the check");
        await techPage.SeesAsync("dry, Tech Person");

        // Somebody changed it meanwhile: told so, with the text kept; sent again it is signed and closed.
        await certPage.GetByLabel("Your signing code").FillAsync(SmallFleet.SigningCode);
        await certPage.PressAsync("Sign");
        await certPage.IsRefusedAsync("Somebody changed this since you opened it");
        await Expect(certPage.GetByLabel("Page", new() { Exact = true })).ToHaveValueAsync("0413");
        await certPage.GetByLabel("Your signing code").FillAsync(SmallFleet.SigningCode);
        await certPage.PressAsync("Sign");
        await certPage.SeesAsync("closed: rectified");
        await certPage.SeesAsync("certifying licence C-200");

        // The fixture's history tells the story.
        await techPage.OpenAsync("/tails/QQ-TSA/fixtures/K-2");
        await techPage.SeesAsync("Found: coffee grounds");
        await techPage.FollowAsync("Drains slowly");
        await techPage.SeesAsync("Released: rectified");
        await Expect(boardPage.Locator("article", new() { HasText = "QQ-TSA" })).Not.ToContainTextAsync("Aft galley sink 2");
    }

    [Fact]
    public async Task Release_ByACertifierWithoutANumber_IsRefusedInPlainWords()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        var defect = await Situations.WorkDoneAsync(host);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("cert.none");

        await page.OpenAsync($"/defects/{defect}/release");
        await page.ChooseAsync("Rectified");
        await page.FillLogAsync("0413", "1");
        await page.GetByLabel("Your signing code").FillAsync(SmallFleet.SigningCode);
        await page.PressAsync("Sign");

        await page.IsRefusedAsync("has no certificate or authorisation number on file");
    }

    [Fact]
    public async Task Extend_AfterTheLapse_IsRefusedInPlainWords()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        var defect = await Situations.DeferredAsync(host);
        host.Clock.AdvanceDays(12);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("control");

        await page.OpenAsync($"/defects/{defect}/extend");
        await page.GetByLabel("By how many days?").FillAsync("5");
        await page.GetByLabel("Why, and the plan").FillAsync("No time on the ground.");
        await page.PressAsync("Extend it");

        await page.IsRefusedAsync("This clock has lapsed");
        await page.IsRefusedAsync("The repair itself may go on");
    }

    /// <summary>A contract technician called to one aircraft: led there, and let in nowhere else.</summary>
    [Fact]
    public async Task GuestForOneTail_IsLedThereAndNowhereElse()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("contract");

        await Expect(page).ToHaveURLAsync(new Regex("/tails/QQ-TSA$"));
        await Expect(page.GetByRole(AriaRole.Navigation, new() { Name = "Pages" })).Not.ToContainTextAsync("Board");
        foreach (var (path, status) in new[] { ("/tails/QQ-TSA/fixtures/K-1", 200), ("/me", 200), ("/report", 200), ("/tails/QQ-TSB", 403), ("/clocks", 403), ("/record", 403) })
        {
            var answer = await page.GotoAsync(path);
            Assert.True(answer!.Status == status, $"{path}: {answer.Status}");
        }

        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToBeVisibleAsync();
    }
}
