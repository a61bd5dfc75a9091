using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>Reports on the Board: grouped by fixture and sector, sorted in one tap.</summary>
public sealed class BoardSortTests(Chromium chromium)
{
    [Fact]
    public async Task Reports_OfOneFixtureOnOneSector_AreOneGroup_AndJoinWhatStandsInOneTap()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.OpenAsync(host);
        var control = await host.ClientForAsync("control");
        var now = host.Clock.GetCurrentInstant();
        var (flown, body, _) = await control.SendAsync(HttpMethod.Put, "/api/v1/sectors/S-1", new { tail = "QQ-TSA", from = "QQBB", to = "QQAA", offBlock = Iso(now.Plus(NodaTime.Duration.FromHours(-3))), onBlock = Iso(now.Plus(NodaTime.Duration.FromHours(-1))), flown = true });
        Assert.True(flown == 200, $"{body}");
        foreach (var _ in Enumerable.Range(0, 2))
        {
            await (await host.ClientForAsync("crew")).SendAsync(HttpMethod.Post, "/api/v1/reports", new { id = NewId.At(now), tail = "QQ-TSA", position = "K-1", symptom = "drainsSlowly", leak = "noneSeen", seenAt = Iso(now.Plus(NodaTime.Duration.FromHours(-2))) });
        }

        await using var device = await chromium.DeviceAsync(host);
        var page = await device.SignInAsync("tech");
        await page.OpenAsync("/board/QQAA");
        await page.SeesAsync("2 reports of Aft galley sink 1, seen on QQBB to QQAA");
        await Situations.WaitForPagesAsync(host, 1);

        await page.GetByRole(AriaRole.Button, new() { Name = "Same as 1 (drains slowly, open)" }).First.ClickAsync();
        await Expect(page.GetByText("2 reports of")).ToHaveCountAsync(0);
        await using (var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken))
        {
            Assert.Equal(Domain.Defects.Closure.SameDefect, db.Defects.Single(defect => defect.Number == 2).Closure);
        }

        // Beside the log, one of its own needs the page and line, and nothing else: its form opens.
        await page.GetByRole(AriaRole.Button, new() { Name = "One of its own: Aft galley sink 1" }).ClickAsync();
        await page.WaitForURLAsync("**/sort");
    }

    private static string Iso(NodaTime.Instant at) => NodaTime.Text.InstantPattern.General.Format(at);
}
