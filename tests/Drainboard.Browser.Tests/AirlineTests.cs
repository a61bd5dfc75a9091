using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Testing.Processes;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>A person at an airline of two web processes behind the balancer: their process dies, and they go on at the other one.</summary>
public sealed class AirlineTests(Chromium chromium)
{
    [Fact]
    public async Task ProcessOfAPerson_Dies_AndTheyGoOnWithAddressAndDraft()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Postgres, NodaTime.SystemClock.Instance.GetCurrentInstant());
        var defect = await Situations.OpenAsync(host);
        var (airline, reason) = await Airline.TryStartAsync(host.Database);
        Assert.SkipWhen(airline is null, reason);
        await using var running = airline;
        await using var device = await chromium.DeviceAsync(airline.Address, 1280);
        var board = await device.SignInAsync("tech");
        await board.OpenAsync("/board/QQAA?sort=departure");
        var address = board.Url;
        var form = await device.NewPageAsync();
        await form.OpenAsync($"/defects/{defect}/correct");
        await form.GetByLabel("What is corrected?").FillAsync("It was the sink at the door side.");
        await form.WaitForTimeoutAsync(300);
        await board.EvaluateAsync("window.loadedBefore = true");

        var mine = (await airline.AnsweredAsync()).Last(row => row.Process >= 0).Process;
        await airline.Processes[mine].KillAsync();

        // The live page loads again by itself at the other process, at times before anybody could see it say so; the address stays, and it is live again.
        await board.WaitForFunctionAsync("() => !window.loadedBefore", null, new() { Timeout = 60_000 });
        await Expect(board.Locator("#components-reconnect-modal")).ToBeHiddenAsync();
        Assert.Equal(address, board.Url);
        await form.ReloadAsync();
        await Expect(form.GetByLabel("What is corrected?")).ToHaveValueAsync("It was the sink at the door side.");
        await form.PressAsync("Add the correction");
        await form.WaitForURLAsync($"**/defects/{defect}");
        await form.SeesAsync("Correction: It was the sink at the door side.");
        await Situations.OpenAsync(host, position: "K-2");
        await Expect(board.Locator("main")).ToContainTextAsync("Aft galley sink 2");
    }
}
