using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>docs/verify.html, opened from the disk as an outsider does: it proves a real export, and finds what was altered in it.</summary>
public sealed class VerifierPageTests(Chromium chromium)
{
    [Fact]
    public async Task Page_OpenedFromTheDisk_ProvesAnExportAndFindsAnAlteredOne()
    {
        var stop = TestContext.Current.CancellationToken;
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.WorkDoneAsync(host);
        var seal = (await host.Services.GetRequiredService<SealMaker>().RunAsync(stop))!;
        await using var db = await host.Db.CreateDbContextAsync(stop);
        var chain = (await db.Record.Select(entry => entry.Chain).Distinct().ToArrayAsync(stop)).Single(key => key.Value.StartsWith("tail:", StringComparison.Ordinal));
        var export = await (await host.ClientForAsync("admin")).GetStringAsync(new Uri($"/api/v1/record/{chain.Value}/export.jsonl", UriKind.Relative), stop);
        await using var context = await chromium.Browser!.NewContextAsync();
        var page = await context.NewPageAsync();
        await page.GotoAsync($"file://{Path.Combine(Root(), "docs", "verify.html")}");

        await GiveAsync(page, export);
        await Expect(page.Locator("#result")).ToContainTextAsync("HOLDS. 3 entries");
        await Expect(page.Locator("#result")).ToContainTextAsync(seal.Root);
        await page.GetByLabel("The root of a seal").FillAsync(seal.Root);
        await Expect(page.Locator("#result")).ToContainTextAsync("It is the root that you kept");
        await page.GetByLabel("The root of a seal").FillAsync(new string('0', 64));
        await Expect(page.Locator("#result")).ToContainTextAsync("DOES NOT HOLD");
        await page.GetByLabel("The root of a seal").FillAsync("");

        await GiveAsync(page, export.Replace("Drains slowly", "Drains well", StringComparison.OrdinalIgnoreCase));
        await Expect(page.Locator("#result")).ToContainTextAsync("Entry 1 was changed");
        await GiveAsync(page, export.Replace("Tech Person", "Crew Person", StringComparison.Ordinal));
        await Expect(page.Locator("#result")).ToContainTextAsync("was not signed by Crew Person");
        await GiveAsync(page, string.Join('\n', export.Split('\n').Where((_, line) => line != 2)));
        await Expect(page.Locator("#result")).ToContainTextAsync("Entry 2 is missing");
    }

    private static Task GiveAsync(IPage page, string content) =>
        page.SetInputFilesAsync("#file", new FilePayload { Name = "record.jsonl", MimeType = "application/jsonl", Buffer = System.Text.Encoding.UTF8.GetBytes(content) });

    private static string Root()
    {
        var at = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(at!.FullName, "Drainboard.slnx")))
        {
            at = at.Parent;
        }

        return at.FullName;
    }
}
