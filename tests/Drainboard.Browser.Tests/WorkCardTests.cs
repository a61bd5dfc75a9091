using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>Work cards on a phone: the strainer job in eight taps, and a card that goes on while the connection is gone.</summary>
public sealed class WorkCardTests(Chromium chromium)
{
    [Fact]
    public async Task StrainerJobWithoutSurprises_FromTheItemToTheSignature_TakesEightTaps()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.PublishCardAsync(host, "sink-strainer", quick: true);
        var defect = await Situations.OpenAsync(host);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("cert");
        await page.OpenAsync($"/defects/{defect}");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        var taps = 0;

        await TapAsync(page.GetByRole(AriaRole.Button, new() { Name = "Start: Clear a sink strainer" }));
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Clear a sink strainer" })).ToBeVisibleAsync();
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await TapAsync(Choice("Coffee grounds"));
        await TapAsync(Choice("Strainer of sink 1"));
        await TapAsync(Choice("Yes, closed and clear"));
        await TapAsync(Choice("Yes, it flows"));
        await TapAsync(Choice("Yes, dry"));
        await TapAsync(page.GetByRole(AriaRole.Button, new() { Name = "Review" }));
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "What you sign" })).ToBeVisibleAsync();
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);

        // The secret is typed, not tapped: it is where the keyboard already is.
        await Expect(page.GetByLabel("Your signing code")).ToBeFocusedAsync();
        await page.Keyboard.TypeAsync(SmallFleet.SigningCode);
        await TapAsync(page.GetByRole(AriaRole.Button, new() { Name = "Sign", Exact = true }));

        await page.SeesAsync("closed: rectified");
        await page.SeesAsync("Clear a sink strainer, version 1");
        Assert.True(taps <= 8, $"{taps} taps");

        async Task TapAsync(ILocator what)
        {
            await what.TapAsync();
            taps++;
        }

        ILocator Choice(string words) => page.Locator("label.choice", new() { HasText = words }).Locator("input");
    }

    [Fact]
    public async Task Surprise_OnTheShortForm_LeadsToTheStepsWithWhatWasAnswered()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.PublishCardAsync(host, "sink-strainer", quick: true);
        var defect = await Situations.OpenAsync(host);
        await Situations.StartAsync(host, defect, "sink-strainer");
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync($"/defects/{defect}/card");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        foreach (var choice in new[] { "Coffee grounds", "Strainer of sink 1", "Yes, closed and clear", "Yes, it flows", "No, wet" })
        {
            await page.ChooseAsync(choice);
        }

        await page.PressAsync("Work done");
        await page.IsRefusedAsync("That is a surprise");
        await page.FollowAsync("Go step by step");

        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Finish the card" })).ToBeVisibleAsync();
        await Expect(page.GetByLabel("Coffee grounds")).ToBeCheckedAsync();
    }

    [Fact]
    public async Task Pour_AskedForByTheCard_ProvesTheWorkAndLeadsBack()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.PublishCardAsync(host, "sink-strainer", quick: true);
        var defect = await Situations.OpenAsync(host);
        await Situations.StartAsync(host, defect, "sink-strainer");
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync($"/defects/{defect}/card");
        await page.FollowAsync("time a pour");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        foreach (var box in await page.GetByRole(AriaRole.Checkbox).AllAsync())
        {
            if (await box.GetAttributeAsync("required") is not null)
            {
                await box.CheckAsync();
            }
        }

        await page.ChooseAsync("From mark to mark");
        await page.GetByLabel("From, mm").FillAsync("120");
        await page.GetByLabel("To, mm").FillAsync("20");
        await page.GetByLabel("Seconds").FillAsync("18.2");
        await page.ChooseAsync("Freely");
        await page.PressAsync("Save the pour");

        await page.WaitForURLAsync($"**/defects/{defect}/card");
        await page.SeesAsync("Timed pour 18.2 s, runs free.");
    }

    /// <summary>Steps are ticked on while the connection is gone; with it back they are sent by themselves, each counts once, and the job is finished and signed.</summary>
    [Fact]
    public async Task Card_WithTheConnectionCutHalfway_LosesNothingAndCountsOnce()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.PublishCardAsync(host, "strainer-steps", quick: true);
        var defect = await Situations.OpenAsync(host);
        await Situations.StartAsync(host, defect, "strainer-steps");
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("cert");
        await page.OpenAsync($"/defects/{defect}/card/steps");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await TickAsync("open", "Done");
        await page.SeesAsync("1 of 6");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);

        await device.SetOfflineAsync(true);
        await TickAsync("rinse", "Done");
        await Expect(page.Locator("#s-rinse .kept")).ToContainTextAsync("Not sent: no connection.");
        await TickAsync("rinse", "Done");
        await TickAsync("close", "Done");
        await Expect(page.Locator("#unsent")).ToContainTextAsync("Not sent: 2 on this device");

        await device.SetOfflineAsync(false);
        await Expect(page.Locator("main")).ToContainTextAsync("3 of 6", new() { Timeout = 20_000 });
        await Expect(page.Locator("#unsent")).ToBeHiddenAsync();
        await page.OpenAsync($"/defects/{defect}/card/steps");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await TickAsync("tidy", "Done");
        await page.SeesAsync("4 of 6");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await TickAsync("ops", "Works as it should");
        await page.SeesAsync("5 of 6");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await TickAsync("leak", "Dry");
        await page.SeesAsync("6 of 6");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await page.ChooseAsync("Coffee grounds");
        await page.ChooseAsync("Strainer of sink 1");
        await page.PressAsync("Work done");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "What you sign" })).ToBeVisibleAsync();
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);

        // A refusal is seen where it is said.
        await page.GetByLabel("Your signing code").FillAsync("not-my-code");
        await page.PressAsync("Sign");
        await page.IsRefusedAsync("This is not your signing code");
        await Expect(page.GetByRole(AriaRole.Alert)).ToBeInViewportAsync();

        // The connection goes while it is signed: nothing is kept of the secret, and the person is told what is known.
        await device.SetOfflineAsync(true);
        await page.GetByLabel("Your signing code").FillAsync(SmallFleet.SigningCode);
        await page.PressAsync("Sign");
        await Expect(page.Locator(".kept")).ToContainTextAsync("it is not known whether your signature arrived");
        Assert.DoesNotContain(SmallFleet.SigningCode, await StoredAsync(page), StringComparison.Ordinal);
        await device.SetOfflineAsync(false);
        await page.PressAsync("Sign");
        await page.SeesAsync("closed: rectified");

        await using var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken);
        var about = Guid.Parse(defect);
        var story = (await db.Record.Where(entry => entry.Subject == about && entry.Kind == "job.step").OrderBy(entry => entry.Number).ToArrayAsync(TestContext.Current.CancellationToken)).Select(entry => entry.Words.Split(',')[0]);
        Assert.Equal(["Step 1", "Step 3", "Step 2", "Step 4", "Step 5", "Step 6"], story);
        Assert.Equal((6, 1), (await db.Record.CountAsync(entry => entry.Subject == about && entry.Kind == "job.step", TestContext.Current.CancellationToken), await db.Record.CountAsync(entry => entry.Subject == about && entry.Kind == "work.released", TestContext.Current.CancellationToken)));

        Task TickAsync(string step, string words) => page.Locator($"#s-{step}").GetByRole(AriaRole.Button, new() { Name = words, Exact = true }).First.ClickAsync();
    }

    // Everything that the pages keep on the device.
    private static Task<string> StoredAsync(IPage page) => page.EvaluateAsync<string>("""
        async () => {
          const all = [JSON.stringify(localStorage), JSON.stringify(sessionStorage)];
          for (const { name } of await indexedDB.databases()) {
            const db = await new Promise((done, failed) => { const open = indexedDB.open(name); open.onsuccess = () => done(open.result); open.onerror = failed; });
            for (const store of db.objectStoreNames) all.push(JSON.stringify(await new Promise((done, failed) => { const read = db.transaction(store).objectStore(store).getAll(); read.onsuccess = () => done(read.result); read.onerror = failed; })));
            db.close();
          }
          return all.join("\n");
        }
        """);
}
