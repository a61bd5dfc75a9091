using Drainboard.Data.Accounts;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;

namespace Drainboard.Browser.Tests;

public sealed class FirstStartTests(Chromium chromium)
{
    /// <summary>From the printed link to an imported station, as the first administrator meets it.</summary>
    [Fact]
    public async Task FirstAdministrator_FromTheLink_SignsInAndImports()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using (var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken))
        {
            (await db.Installations.SingleAsync(TestContext.Current.CancellationToken)).AwaitSetUp(ApiKey.HashOf("once"));
            await db.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        await using var device = await chromium.DeviceAsync(host, 1280);
        var page = await device.NewPageAsync();
        await page.GotoAsync("/set-up/first?secret=once");
        await page.GetByLabel("Operator").FillAsync("Strand Air (invented)");
        await page.GetByLabel("Your name").FillAsync("Ada First");
        await page.GetByLabel("User name").FillAsync("ada");
        await page.GetByLabel("Password, at least 12 characters").FillAsync("a plain test phrase");
        await page.PressAsync("Make the account");
        await page.SeesAsync("Done. Sign in");
        await page.CloseAsync();

        page = await device.SignInAsync("ada");
        await page.OpenAsync("/set-up/import");
        await page.GetByLabel("Files to import").SetInputFilesAsync(new FilePayload { Name = "stations.csv", MimeType = "text/csv", Buffer = "code,name,zone\nQQEE,New Strand,Europe/Nowhere\n"u8.ToArray() });
        await page.PressAsync("Check and import");
        await page.SeesAsync("is not an IANA time zone");
        await page.SeesAsync("Nothing was imported");
        await page.GetByLabel("Files to import").SetInputFilesAsync(new FilePayload { Name = "stations.csv", MimeType = "text/csv", Buffer = "code,name,zone\nQQEE,New Strand,Europe/Lisbon\n"u8.ToArray() });
        await page.PressAsync("Check and import");
        await page.SeesAsync("Imported.");
        await page.OpenAsync("/set-up/fleet");
        await page.SeesAsync("New Strand");
    }
}
