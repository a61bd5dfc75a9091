using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Live;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>Managed heap per open page, by real pages in Chromium: the heap with all of them open less the heap with the first, after full collections.</summary>
internal static class CircuitMemory
{
    private const int BudgetKib = 700;

    /// <summary>A page follows the change feed, and so does the bar above it.</summary>
    private const int ListenersEach = 2;

    public static async Task<int> RunAsync()
    {
        var (host, reason) = await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite, Instant.FromUtc(2026, 11, 25, 14, 5), onPort: true, demo: true);
        if (host is null)
        {
            Console.Error.WriteLine(reason);
            return 1;
        }

        await using var running = host;
        return await MeasureAsync(host, "Greta Nkosi", "/board/QQMB", 40) <= BudgetKib ? 0 : 1;
    }

    /// <returns>KiB of managed heap for each page after the first.</returns>
    public static async Task<double> MeasureAsync(DrainboardHost host, string who, string path, int pages)
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(Browsers.Options());
        await using var context = await browser.NewContextAsync(new() { BaseURL = host.Address.ToString() });
        var first = await context.NewPageAsync();
        await first.GotoAsync("/sign-in");
        await first.GetByRole(AriaRole.Button, new() { Name = who }).ClickAsync();
        await first.WaitForURLAsync(url => !url.Contains("/sign-in", StringComparison.Ordinal));
        await first.GotoAsync(path);
        var feed = host.Services.GetRequiredService<ChangeFeed>();
        await UntilAsync(() => feed.Listeners >= ListenersEach);
        await Task.Delay(2000);
        var before = Heap();
        for (var page = 0; page < pages; page++)
        {
            await (await context.NewPageAsync()).GotoAsync(path);
        }

        await UntilAsync(() => feed.Listeners >= ListenersEach * (pages + 1));
        var each = (Heap() - before) / 1024.0 / pages;
        Console.WriteLine($"{pages} pages of {path}: {each:0} KiB of managed heap each; budget {BudgetKib} KiB; ratio to the budget {each / BudgetKib:0.00}");
        return each;
    }

    private static long Heap()
    {
        for (var round = 0; round < 3; round++)
        {
            GC.Collect(2, GCCollectionMode.Aggressive, blocking: true, compacting: true);
            GC.WaitForPendingFinalizers();
        }

        return GC.GetTotalMemory(forceFullCollection: true);
    }

    private static async Task UntilAsync(Func<bool> holds)
    {
        for (var tries = 0; tries < 600 && !holds(); tries++)
        {
            await Task.Delay(100);
        }
    }
}
