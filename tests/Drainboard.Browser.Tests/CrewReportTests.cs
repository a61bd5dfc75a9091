using System.IO.Compression;
using System.Text.Json;
using Deque.AxeCore.Playwright;
using Drainboard.Domain.Defects;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>The crew's report on a shared tablet, with everything that goes wrong on board.</summary>
public sealed class CrewReportTests(Chromium chromium)
{
    /// <summary>A scanned code opens the page with the fixture chosen; sign-in is once a sector and does not count.</summary>
    [Fact]
    public async Task SlowDrain_FromAScannedCode_TakesAtMostFiveTaps()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        var taps = 0;
        await page.ExposeFunctionAsync("tapped", () => { taps++; });
        await page.AddInitScriptAsync("addEventListener('click', event => { if (event.isTrusted && event.detail) window.tapped(); }, true);");

        await page.OpenAsync(CrewPages.Sink);
        await page.ChooseAsync("Drains slowly");
        await page.ChooseAsync("No, I looked");
        await page.ChooseAsync("In flight");
        await page.ChooseAsync("Only this one");
        await page.PressAsync("Save report");
        await Expect(page.Locator("#saved")).ToContainTextAsync("Received: QQ-TSA 1");

        Assert.InRange(taps, 1, 5);
        var report = Assert.Single(await ReportsAsync(host));
        Assert.Equal((Symptom.DrainsSlowly, LeakAnswer.NoneSeen, FlightPhase.InFlight, OthersToo.OnlyThis, "Crew Person", "Tablet 1"), (report.Symptom, report.Leak, report.Phase, report.Others, report.ReporterName, report.DeviceName));
        Assert.NotNull(report.SentAt);
        Assert.NotNull(report.OffsetMinutes);
    }

    /// <summary>Airplane mode, the tab killed, the tablet restarted: ten reports with photos, each there once.</summary>
    [Theory]
    [InlineData(DatabaseKind.Sqlite)]
    [InlineData(DatabaseKind.Postgres)]
    public async Task TenReportsInFlight_TabKilledAndTabletRestarted_ArriveOnceEach(DatabaseKind kind)
    {
        await using var host = await chromium.HostAsync(kind);
        var profile = Directory.CreateTempSubdirectory("drainboard-tablet-").FullName;
        await using (var device = await chromium.TabletAsync(host, profile))
        {
            var page = await device.TabletAsync(host);
            await device.SetOfflineAsync(true);
            for (var at = 0; at < 4; at++)
            {
                await page.ReportSlowAsync(at % 2 == 0 ? CrewPages.Sink : "/report?tail=QQ-TSB&at=K-2", photo: at < 2, words: $"Report {at}");
            }

            await page.WaitsAsync("Not sent: 4 reports on this device");

            // Half written, and the tab is gone.
            await page.OpenAsync("/report?tail=QQ-TSC&at=B-A");
            await page.ChooseAsync("Does not drain");
            await page.WaitForTimeoutAsync(300);
            await page.CloseAsync();
            page = await device.NewPageAsync();
            await page.OpenAsync("/report?tail=QQ-TSC&at=B-A");
            await Expect(page.GetByRole(AriaRole.Radio, new() { Name = "Does not drain" })).ToBeCheckedAsync();
            for (var at = 4; at < 7; at++)
            {
                await page.ReportSlowAsync(photo: at == 4, words: $"Report {at}");
            }
        }

        await using (var device = await chromium.TabletAsync(host, profile))
        {
            // The restarted browser may have sent some by Background Sync before this line; none is lost or doubled by it.
            await device.SetOfflineAsync(true);
            var page = await device.NewPageAsync();
            for (var at = 7; at < 10; at++)
            {
                await page.ReportSlowAsync(words: $"Report {at}");
            }

            await device.SetOfflineAsync(false);
            await page.IsAllSentAsync();
            await page.OpenAsync("/report?tail=QQ-TSA&view=mine");
            await Expect(page.GetByText("received, QQ-TSA").First).ToBeVisibleAsync();
        }

        var reports = await ReportsAsync(host);
        Assert.Equal(Enumerable.Range(0, 10).Select(at => $"Report {at}"), reports.Select(report => report.Words).Order());
        Assert.Equal(3, reports.Sum(report => report.Photos.Count));
        Directory.Delete(profile, recursive: true);
    }

    /// <summary>A photo leaves the device upright and without the place where it was taken; the test's picture lies on its side and says where.</summary>
    [Fact]
    public async Task Photo_LeavesTheDevice_UprightAndWithoutItsPlace()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        var sent = new List<byte>();
        await device.RouteAsync("**/photos/**", async route =>
        {
            sent.AddRange(route.Request.PostDataBuffer ?? []);
            await route.ContinueAsync();
        });

        await page.ReportSlowAsync(photo: true);
        await page.IsAllSentAsync();

        using var picture = SkiaSharp.SKBitmap.Decode(sent.ToArray());
        Assert.Equal((900, 1200), (picture.Width, picture.Height));
        Assert.True(picture.GetPixel(450, 100).Red > 200 && picture.GetPixel(450, 1100).Blue > 200, "The red half is not on top.");
        Assert.DoesNotContain(TestPhotos.Place, System.Text.Encoding.Latin1.GetString([.. sent]), StringComparison.Ordinal);
    }

    /// <summary>A cabin network's page that answers 200 for everybody is not taken for us, and takes nothing.</summary>
    [Fact]
    public async Task PortalInTheWay_IsNotMistakenForUs()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        await device.RouteAsync("**/api/**", route => route.FulfillAsync(new() { Status = 200, ContentType = "text/html", Body = "<html>Welcome on board! Buy Wi-Fi.</html>" }));

        await page.ReportSlowAsync();
        await page.WaitsAsync("Not sent: 1 report on this device");
        Assert.Empty(await ReportsAsync(host));

        await device.UnrouteAllAsync();
        await page.SendNowAsync();
        await page.IsAllSentAsync();
        Assert.Single(await ReportsAsync(host));
    }

    /// <summary>The server takes it in and its answer never comes: sent again, it is there once, with its photo.</summary>
    [Fact]
    public async Task AnswerLost_AfterTheServerTookIt_IsThereOnce()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        var lost = 0;
        await device.RouteAsync("**/api/v1/reports**", async route =>
        {
            if (route.Request.Method == "GET" || lost > 3)
            {
                await route.ContinueAsync();
                return;
            }

            lost++;
            await route.FetchAsync();
            await route.AbortAsync();
        });

        await page.ReportSlowAsync(photo: true);
        for (var tries = 0; tries < 8 && await page.Locator("#unsent").IsVisibleAsync(); tries++)
        {
            await page.SendNowAsync();
            await page.WaitForTimeoutAsync(400);
        }

        await page.IsAllSentAsync();
        var report = Assert.Single(await ReportsAsync(host));
        Assert.Single(report.Photos);
        Assert.True(lost > 1);
    }

    /// <summary>A sign-in that has run out keeps everything, and says who must sign in.</summary>
    [Fact]
    public async Task TicketThatHasRunOut_KeepsTheReportUntilItsPersonSignsIn()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        await device.SetOfflineAsync(true);
        await page.ReportSlowAsync();
        host.Clock.AdvanceDays(20);
        await device.SetOfflineAsync(false);
        await page.SendNowAsync();
        await page.WaitsAsync("Crew Person: please sign in");
        Assert.Empty(await ReportsAsync(host));

        await page.PressAsync("Lock");
        await page.PinAsync("crew");

        await page.SendNowAsync();
        await page.IsAllSentAsync();
        Assert.Single(await ReportsAsync(host));
    }

    /// <summary>A shared tablet: one person's reports go under their name while the next is signed in, who neither sees nor opens them.</summary>
    [Fact]
    public async Task NextPersonOnTheTablet_SendsTheFirstOnesReportAndCannotReadIt()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        await page.PressAsync("Lock");
        await page.PinAsync("pilot");
        await page.PressAsync("Lock");
        await device.SetOfflineAsync(true);
        await page.PinAsync("crew");
        await page.ReportSlowAsync(words: "Between us.");

        await page.PressAsync("Lock");
        await page.GetByLabel("User name").FillAsync("pilot");
        await page.GetByLabel("PIN", new() { Exact = true }).FillAsync("111113");
        await page.PressAsync("Sign in");
        await page.IsRefusedAsync("do not belong together");
        await page.PinAsync("pilot");
        await page.OpenAsync("/report?tail=QQ-TSA&view=mine");
        await page.WaitsAsync("Not sent: 1 report on this device");
        await Expect(page.Locator("[data-report]")).ToHaveCountAsync(0);
        Assert.DoesNotContain("Between us", await page.ContentAsync(), StringComparison.Ordinal);

        // What lies in the browser's storage is sealed.
        var stored = await page.EvaluateAsync<string>("""
            async () => new Promise(done => { const open = indexedDB.open("drainboard-report"); open.onsuccess = () => { const rows = open.result.transaction("reports").objectStore("reports").getAll(); rows.onsuccess = () => done(JSON.stringify(rows.result.map(row => [Object.keys(row), new TextDecoder().decode(row.sealed.data)]))); }; })
            """);
        Assert.DoesNotContain("Between us", stored, StringComparison.Ordinal);

        await device.SetOfflineAsync(false);
        await page.SendNowAsync();
        await page.IsAllSentAsync();
        Assert.Equal("Crew Person", Assert.Single(await ReportsAsync(host)).ReporterName);
    }

    /// <summary>Somebody who never signed in here, with no connection: what they write is kept, and goes under their name once they have.</summary>
    [Fact]
    public async Task StrangerWithoutAConnection_ReportsNowAndSignsInLater()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        await page.PressAsync("Lock");
        await device.SetOfflineAsync(true);
        await page.GetByLabel("User name").FillAsync("crew.b");
        await page.GetByLabel("PIN", new() { Exact = true }).FillAsync(SmallFleet.Pin);
        await page.PressAsync("Sign in");
        await page.PressAsync("Report, sign in later");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Lock" })).ToBeVisibleAsync();
        await page.ReportSlowAsync(photo: true);
        await page.SendNowAsync();
        await page.WaitsAsync("No connection now.");
        await page.OpenAsync("/report?tail=QQ-TSA&at=B-A");
        await page.ChooseAsync("Backs up");
        await page.WaitForTimeoutAsync(300);
        await device.SetOfflineAsync(false);
        await page.SendNowAsync();
        await page.WaitsAsync("crew.b: please sign in");

        await page.PressAsync("Lock");
        await page.PinAsync("crew.b");

        // Nobody had looked at a PIN when it was written: its person says that it is theirs, and only then it goes.
        await page.SendNowAsync();
        Assert.Empty(await ReportsAsync(host));
        await page.OpenAsync("/report?tail=QQ-TSA&view=mine");
        await page.SeesAsync("Is it yours?");
        await page.PressAsync("Yes, send it");
        await page.IsAllSentAsync();
        var report = Assert.Single(await ReportsAsync(host));
        Assert.Equal(("Other Crew", 1), (report.ReporterName, report.Photos.Count));

        // What was begun and not saved is theirs to finish.
        await page.PressAsync("Go on");
        await page.SeesAsync("What you began here is back.");
        await Expect(page.GetByLabel("Backs up")).ToBeCheckedAsync();
    }

    /// <summary>After four minutes without a touch the tablet asks who is there; what was begun is back for its person, and for nobody else.</summary>
    [Fact]
    public async Task IdleTablet_AsksWhoIsThere_AndThatPageIsClean()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        await page.OpenAsync(CrewPages.Sink);
        await page.ChooseAsync("Backs up");
        await page.WaitForTimeoutAsync(300);

        await page.Clock.SetSystemTimeAsync((NodaTime.SystemClock.Instance.GetCurrentInstant() + NodaTime.Duration.FromMinutes(5)).ToDateTimeUtc());
        await page.EvaluateAsync("() => document.dispatchEvent(new Event('visibilitychange'))");
        await Expect(page.GetByLabel("User name")).ToBeVisibleAsync();
        Assert.Empty((await page.RunAxe()).Violations.Select(violation => $"{violation.Id} {violation.Nodes[0].Html}"));

        await page.PinAsync("pilot");
        await Expect(page.GetByRole(AriaRole.Radio, new() { Name = "Backs up" })).Not.ToBeCheckedAsync();
        await page.PressAsync("Lock");
        await page.PinAsync("crew");
        await Expect(page.GetByRole(AriaRole.Radio, new() { Name = "Backs up" })).ToBeCheckedAsync();
    }

    /// <summary>No room on the device: said at once, nothing is claimed to be kept, and what was typed stays on the page.</summary>
    [Fact]
    public async Task StorageFull_IsSaidAndNothingIsClaimed()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        await page.OpenAsync(CrewPages.Sink);
        await page.ChooseAsync("Drains slowly");
        await page.ChooseAsync("No, I looked");
        // As a browser refuses when the quota is used up; the browser's own count is too coarse to be driven to the byte.
        await page.EvaluateAsync("() => { window.put = IDBObjectStore.prototype.put; IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError'); }; }");
        await page.PressAsync("Save report");
        await page.IsRefusedAsync("NOT kept");
        await Expect(page.GetByRole(AriaRole.Radio, new() { Name = "Drains slowly" })).ToBeCheckedAsync();
        await page.EvaluateAsync("() => { IDBObjectStore.prototype.put = window.put; }");

        await page.PressAsync("Save report");
        await Expect(page.Locator("#saved")).ToContainTextAsync("Received");
        Assert.Single(await ReportsAsync(host));
    }

    /// <summary>Two tabs send at the same time.</summary>
    [Fact]
    public async Task TwoTabs_SendEachReportOnce()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        await device.SetOfflineAsync(true);
        await page.ReportSlowAsync(words: "One");
        await page.ReportSlowAsync(words: "Two", photo: true);
        var other = await device.NewPageAsync();
        await other.OpenAsync("/report?tail=QQ-TSA&view=mine");

        await device.SetOfflineAsync(false);
        await Task.WhenAll(page.EvaluateAsync("async () => (await import('/report/outbox.js')).sendAll(true)"), other.EvaluateAsync("async () => (await import('/report/outbox.js')).sendAll(true)"));

        await page.IsAllSentAsync();
        await other.IsAllSentAsync();
        Assert.Equal(["One", "Two"], (await ReportsAsync(host)).Select(report => report.Words).Order());
    }

    /// <summary>A tablet that is a day behind: its times stand as it told them, and how far it is off stands beside them.</summary>
    [Fact]
    public async Task ClockADayWrong_IsSaidAndNotCorrected()
    {
        var now = NodaTime.SystemClock.Instance.GetCurrentInstant();
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite, now);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        await page.Clock.SetSystemTimeAsync((now - NodaTime.Duration.FromDays(1)).ToDateTimeUtc());

        // A clock that jumps is as good as an hour of nobody touching it: the tablet asks who is there.
        await page.OpenAsync(CrewPages.Sink);
        await page.PinAsync("crew");

        await page.ReportSlowAsync();
        await page.IsAllSentAsync();

        var report = Assert.Single(await ReportsAsync(host));
        Assert.InRange(report.ClockOff!.Value.TotalHours, -24.2, -23.8);
        Assert.InRange((now - report.SeenAt).TotalHours, 23.8, 24.2);
        await using var desk = await chromium.DeviceAsync(host);
        var tech = await desk.SignInAsync("tech");
        await tech.OpenAsync($"/defects/{report.Defect.Value}");
        await tech.SeesAsync("behind ours: its times are as it told them");
    }

    /// <summary>What is known is shown first; said to be the same, it is added to it instead of opening another.</summary>
    [Fact]
    public async Task WhatIsKnown_IsShownFirst_AndAddedTo()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.OpenAsync(host);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        await page.OpenAsync(CrewPages.Sink);
        await page.SeesAsync("Already known here");

        await page.ChooseAsync("It is the same: add to it");
        await page.ChooseAsync("Yes, leaking");
        await page.SeesAsync("Tell the flight deck now; this reaches the ground later.");
        await page.PressAsync("under it");
        await page.PressAsync("Save report");
        await Expect(page.Locator("#saved")).ToContainTextAsync("Received: QQ-TSA 1");

        await page.PressAsync("Usable now");
        await Expect(page.GetByRole(AriaRole.Region, new() { Name = "All together" }).GetByText("Aft galley sink 1")).ToBeVisibleAsync();
        await using var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken);
        Assert.Equal(LeakAnswer.Leaking, Assert.Single(db.Defects.ToArray()).Leak);
        Assert.Equal(2, await db.Reports.CountAsync(TestContext.Current.CancellationToken));
    }

    /// <summary>What the server refuses stays here with its reason, and goes once it is put right.</summary>
    [Fact]
    public async Task RefusedReport_StaysWithItsReason_AndIsSentWhenPutRight()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.TabletAsync(host);
        await page.OpenAsync(CrewPages.Sink);
        await page.ChooseAsync("Drains slowly");
        await page.ChooseAsync("No, I looked");
        await page.GetByText("Words, photos, time, log line").ClickAsync();
        await page.GetByLabel("Photos").SetInputFilesAsync(new FilePayload { Name = "sink.jpg", MimeType = "image/jpeg", Buffer = TestPhotos.Jpeg() });
        await page.GetByLabel("Page", new() { Exact = true }).FillAsync("0412");
        await page.GetByLabel("Line", new() { Exact = true }).FillAsync("3");
        await page.PressAsync("Save report");
        await page.IsRefusedAsync("give all three, or none");
        await page.GetByLabel("Time of the entry").FillAsync("2026-02-26T09:00");

        // The host's clock stands in January: this time lies in its future.
        await page.PressAsync("Save report");
        await page.WaitsAsync("One needs attention");
        await page.SeesAsync("lies in the future");
        await page.PressAsync("Change and send it");
        await page.GetByLabel("Time of the entry").FillAsync("2026-01-26T09:00");
        await page.PressAsync("Save report");

        await page.IsAllSentAsync();
        var report = Assert.Single(await ReportsAsync(host));
        Assert.Equal(("0412", 1), (report.Log!.Page, report.Photos.Count));
    }

    /// <summary>First load at most 100 KB as it goes over the line (each file compressed), and installable.</summary>
    [Fact]
    public async Task FirstLoad_IsSmall_AndThePageCanBeInstalled()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(host);
        var page = await device.NewPageAsync();
        var answers = new List<IResponse>();
        page.Response += (_, response) => answers.Add(response);
        await page.OpenAsync("/report");
        var bytes = 0L;
        foreach (var answer in answers.ToArray())
        {
            var body = await answer.BodyAsync();
            bytes += answer.Url.EndsWith(".woff2", StringComparison.Ordinal) ? body.Length : Zipped(body);
        }

        await page.SettleAsync();

        Assert.InRange(bytes, 20_000, 100_000);
        var session = await device.NewCDPSessionAsync(page);
        var errors = (await session.SendAsync("Page.getInstallabilityErrors"))!.Value.GetProperty("installabilityErrors").EnumerateArray().Select(error => error.GetProperty("errorId").GetString());
        Assert.DoesNotContain(errors, error => error != "in-incognito");
        TestContext.Current.TestOutputHelper?.WriteLine($"{bytes} bytes");
    }

    /// <summary>Every text of the page in every language, with the same places to fill in.</summary>
    [Fact]
    public async Task Languages_SayTheSameThings()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        using var client = host.CreateClient();
        async Task<Dictionary<string, string>> WordsAsync(string language) => JsonSerializer.Deserialize<Dictionary<string, string>>(await client.GetStringAsync(new Uri($"/report/words/{language}.json", UriKind.Relative)))!;
        var (english, german) = (await WordsAsync("en"), await WordsAsync("de"));

        Assert.Equal(english.Keys.Order(), german.Keys.Order());
        Assert.All(english.Keys, key => Assert.Equal(Places(english[key]), Places(german[key])));
        Assert.All(german.Values, text => Assert.NotEqual("", text.Trim()));
        foreach (var symptom in Enum.GetValues<Symptom>())
        {
            Assert.Contains($"symptom.{JsonNamingPolicy.CamelCase.ConvertName(symptom.ToString())}", english.Keys);
        }

        await using var device = await chromium.Browser!.NewContextAsync(new() { BaseURL = host.Address.ToString(), Locale = "de-AT" });
        var page = await device.NewPageAsync();
        await page.OpenAsync("/report");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Meldung", Exact = true })).ToBeVisibleAsync();
        Assert.Equal("de", await page.Locator("html").GetAttributeAsync("lang"));
    }

    private static string Places(string text) => string.Join(" ", System.Text.RegularExpressions.Regex.Matches(text, @"\{\w+\}").Select(match => match.Value).Order());

    private static long Zipped(byte[] body)
    {
        using var into = new MemoryStream();
        using (var zip = new GZipStream(into, CompressionLevel.SmallestSize))
        {
            zip.Write(body);
        }

        return into.ToArray().Length;
    }

    private static async Task<Report[]> ReportsAsync(DrainboardHost host)
    {
        await using var db = await host.Db.CreateDbContextAsync();
        return await db.Reports.AsNoTracking().ToArrayAsync();
    }
}
