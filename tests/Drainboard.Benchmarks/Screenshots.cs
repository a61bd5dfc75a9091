using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>Pictures of the demo at fixed times, so that a change of looks shows in review.</summary>
internal static class Screenshots
{
    public static async Task<int> TakeAsync(string folder)
    {
        Directory.CreateDirectory(folder);
        var (host, reason) = await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite, Instant.FromUtc(2026, 11, 25, 14, 5), onPort: true, demo: true);
        if (host is null)
        {
            Console.Error.WriteLine(reason);
            return 1;
        }

        await using var running = host;
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(Browsers.Options());
        var (defect, leak, sink, tail) = await FindAsync(host);
        var shots = new (string Name, string Who, string Path, int Width, string Theme)[]
        {
            ("board-1280", "Greta Nkosi", "/board/QQMB", 1280, "day"),
            ("board-390", "Greta Nkosi", "/board/QQMB", 390, "day"),
            ("board-night-390", "Greta Nkosi", "/board/QQMB", 390, "night"),
            ("clocks-1280", "Yusuf Brandt", "/clocks", 1280, "day"),
            ("clocks-390", "Yusuf Brandt", "/clocks", 390, "day"),
            ("clocks-follow-1280", "Yusuf Brandt", "/clocks/follow", 1280, "day"),
            ("departure-390", "Anouk Reyes", $"/tails/{tail}/departure", 390, "day"),
            ("clocks-print-1280", "Yusuf Brandt", "/clocks/print", 1280, "day"),
            ("policies-1280", "Kim Varga", "/set-up/policies", 1280, "day"),
            ("tail-390", "Anouk Reyes", $"/tails/{tail}", 390, "day"),
            ("fixture-390", "Anouk Reyes", sink, 390, "day"),
            ("defect-390", "Lena Marchetti", $"/defects/{defect}", 390, "day"),
            ("defect-night-390", "Anouk Reyes", $"/defects/{leak}", 390, "night"),
            ("work-390", "Anouk Reyes", $"/defects/{leak}/work", 390, "outdoors"),
            ("report-390", "Ida Sandoval", $"/report?tail={tail}&at=T-A", 390, "day"),
            ("set-up-1280", "Kim Varga", "/set-up", 1280, "day"),
            ("sign-in-390", "", "/sign-in", 390, "day"),
        };
        foreach (var (name, who, path, width, theme) in shots)
        {
            await using var context = await browser.NewContextAsync(new() { BaseURL = host.Address.ToString(), ViewportSize = new() { Width = width, Height = width < 800 ? 844 : 860 } });
            await context.AddCookiesAsync([new() { Name = "theme", Value = theme, Url = host.Address.ToString() }]);
            var page = await context.NewPageAsync();
            if (who.Length > 0)
            {
                await page.GotoAsync("/sign-in");
                await page.GetByRole(AriaRole.Button, new() { Name = who }).ClickAsync();
                await page.WaitForURLAsync(url => !url.Contains("/sign-in", StringComparison.Ordinal));
            }

            await page.GotoAsync(path);
            await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{name}.png"), FullPage = width < 800 && !name.StartsWith("board", StringComparison.Ordinal) && !name.StartsWith("clocks", StringComparison.Ordinal) });
            Console.WriteLine($"{name}.png");
        }

        return 0;
    }

    private static async Task<(Guid Defect, Guid Leak, string Sink, string Tail)> FindAsync(DrainboardHost host)
    {
        await using var db = await host.Db.CreateDbContextAsync();
        var deferred = await db.Defects.Where(defect => defect.State == Domain.Defects.DefectState.Deferred).OrderByDescending(defect => defect.RecordedAt).FirstAsync();
        var leaking = await db.Defects.Where(defect => defect.State == Domain.Defects.DefectState.Open && defect.Leak == Domain.Defects.LeakAnswer.Leaking).FirstAsync();
        var mark = Domain.Fleet.Registration.Parse("QQ-MRA");
        var rogue = await db.Tails.SingleAsync(tail => tail.Registration == mark);
        var tail = await db.Tails.SingleAsync(row => row.Id == leaking.Tail);
        return (deferred.Id.Value, leaking.Id.Value, $"/tails/{rogue.Registration}/fixtures/K-G4-2", tail.Registration.Value);
    }
}
