using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>A walk-round: written at a desk, ticked by phone with and without a connection, a finding with its photo, a tick taken back, the cold that calls for more.</summary>
public sealed class RoundTests(Chromium chromium)
{
    [Theory]
    [InlineData(DatabaseKind.Sqlite)]
    [InlineData(DatabaseKind.Postgres)]
    public async Task Round_IsWrittenTickedAndFound(DatabaseKind kind)
    {
        await using var host = await chromium.HostAsync(kind);
        await using var desk = await chromium.DeviceAsync(host, 1280);
        var admin = await desk.SignInAsync("admin");
        await admin.OpenAsync("/set-up/checks");
        await admin.PressAsync("Write a check");
        await admin.GetByLabel("Code", new() { Exact = true }).FillAsync("masts");
        await admin.GetByLabel("Title", new() { Exact = true }).FillAsync("Drain masts clean");
        await admin.GetByLabel("For each").SelectOptionAsync("drain mast");
        await admin.GetByLabel("Every, days").FillAsync("0");
        await admin.GetByLabel("Minutes, for one").FillAsync("1");
        await admin.GetByLabel("What to guard against").FillAsync("Never touch a heated mast.");
        await admin.GetByLabel("The manual or programme that says how").FillAsync("TEST-LC 1");
        await admin.PressAsync("Save the check");
        await admin.IsRefusedAsync("Say what to look at");
        await admin.GetByLabel("What to look at, and what is good").FillAsync("Clean and undamaged.");
        await admin.PressAsync("Save the check");
        await admin.SeesAsync("Version 1 is saved.");

        await using var phone = await chromium.DeviceAsync(host, 390);
        var tech = await phone.SignInAsync("tech");
        await tech.OpenAsync("/tails/QQ-TSA");
        await tech.SeesAsync("2 checks due, 2 min");
        await tech.OpenAsync("/tails/QQ-TSA/round");
        await tech.SeesAsync("Never touch a heated mast.");

        // Without a connection ticks wait on the device, each for itself, and are sent by themselves.
        await Situations.PlanCheckAsync(host, "panels", "sinks", "galleySink");
        await tech.OpenAsync("/tails/QQ-TSA/round");
        await phone.SetOfflineAsync(true);
        await tech.GetByRole(AriaRole.Button, new() { Name = "Good: " }).Nth(0).ClickAsync();
        await tech.GetByRole(AriaRole.Button, new() { Name = "Good: " }).Nth(2).ClickAsync();
        await tech.GetByRole(AriaRole.Button, new() { Name = "Good: " }).Nth(3).ClickAsync();
        await Expect(tech.Locator("#unsent")).ToContainTextAsync("Not sent: 3 on this device");
        await phone.SetOfflineAsync(false);
        await tech.SeesAsync("1 due, 1 min");
        await Expect(tech.Locator("#unsent")).ToBeHiddenAsync();
        await Expect(tech.GetByRole(AriaRole.Button, new() { Name = "Good: " })).ToHaveCountAsync(1);

        // What is found is asked for in full, and becomes a report with its photo.
        await tech.Locator("summary", new() { HasText = "Something else" }).ClickAsync();
        await tech.GetByLabel("What is seen?").SelectOptionAsync("Leaks");
        await tech.ChooseAsync("Yes, leaking");
        await tech.GetByLabel("Photo").SetInputFilesAsync(new FilePayload { Name = "mast.jpg", MimeType = "image/jpeg", Buffer = TestPhotos.Jpeg() });
        await tech.GetByRole(AriaRole.Button, new() { Name = "Write it up" }).ClickAsync();
        await tech.IsRefusedAsync("say where");
        await Expect(tech.GetByLabel("What is seen?")).ToHaveValueAsync("Leaks");
        await tech.GetByLabel("If it leaks: where?").FillAsync("at its foot");
        await tech.GetByRole(AriaRole.Button, new() { Name = "Write it up" }).ClickAsync();
        await tech.SeesAsync("Nothing is due");
        await tech.FollowAsync("something found");
        await tech.SeesAsync("Leaking: at its foot");
        await Expect(tech.Locator(".photos img")).ToHaveCountAsync(1);

        // Ticked in error: taken back with its reason, and due again.
        await tech.OpenAsync("/tails/QQ-TSA/round");
        var ticked = tech.Locator("li", new() { HasText = "Aft drain mast: good" });
        await ticked.Locator("summary").ClickAsync();
        await ticked.GetByLabel("Why?").FillAsync("The other aircraft");
        await ticked.GetByRole(AriaRole.Button, new() { Name = "Take it back" }).ClickAsync();
        await tech.SeesAsync("1 due, 1 min");
        await tech.SeesAsync("taken back: The other aircraft");
    }

    [Fact]
    public async Task Cold_IsToldByPhone_AndStandsOnTheBoard()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        var api = await host.ClientForAsync("admin");
        Assert.Equal(200, (await api.SendAsync(HttpMethod.Put, "/api/v1/planned-checks/drain-down", new { id = NewId.At(host.Clock.GetCurrentInstant()), terms = new { title = "Drain the water", look = "Empty and dry", kind = (string?)null, place = "outside", everyDays = 0, minutes = 10, manual = "TEST-CW", belowCelsius = 2 } }, ifNoneMatch: true)).Status);
        await using var phone = await chromium.DeviceAsync(host, 390);
        var tech = await phone.SignInAsync("tech");
        await tech.OpenAsync("/tails/QQ-TSA/round");
        await tech.SeesAsync("How cold it is here is not known");
        await tech.FollowAsync("Tell the temperature");
        await tech.GetByLabel("Degrees Celsius").FillAsync("-4");
        await tech.ChooseAsync("Lowest expected");
        await tech.PressAsync("Save the temperature");
        await tech.IsRefusedAsync("Say until when");
        await tech.ChooseAsync("Measured now");
        await tech.PressAsync("Save the temperature");
        await tech.SeesAsync("−4 °C");
        await tech.OpenAsync("/board/QQAA");
        await tech.SeesAsync("−4 °C: Drain the water.");
        await tech.OpenAsync("/checks");
        await tech.SeesAsync("in the cold with a check to do");
        await tech.FollowAsync("QQ-TSA");
        await tech.GetByRole(AriaRole.Button, new() { Name = "Good: The whole aircraft" }).ClickAsync();
        await tech.SeesAsync("Nothing is due");
    }
}
