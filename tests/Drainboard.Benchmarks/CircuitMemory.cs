using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Live;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>Managed heap per open Board, by real pages in Chromium: the heap with all of them open less the heap with none, after full collections.</summary>
internal static class CircuitMemory
{
    private const int Boards = 40;
    private const int BudgetKib = 700;

    public static async Task<int> RunAsync()
    {
        var (host, reason) = await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite, Instant.FromUtc(2026, 11, 25, 14, 5), onPort: true, demo: true);
        if (host is null)
        {
            Console.Error.WriteLine(reason);
            return 1;
        }

        await using var running = host;
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(Browsers.Options());
        await using var context = await browser.NewContextAsync(new() { BaseURL = host.Address.ToString() });
        var first = await context.NewPageAsync();
        await first.GotoAsync("/sign-in");
        await first.GetByRole(AriaRole.Button, new() { Name = "Greta Nkosi" }).ClickAsync();
        await first.WaitForURLAsync(url => !url.Contains("/sign-in", StringComparison.Ordinal));
        var feed = host.Services.GetRequiredService<ChangeFeed>();
        await UntilAsync(() => feed.Listeners == 1);
        var before = Heap();
        for (var board = 0; board < Boards; board++)
        {
            await (await context.NewPageAsync()).GotoAsync("/board/QQMB");
        }

        await UntilAsync(() => feed.Listeners == Boards + 1);
        var each = (Heap() - before) / 1024.0 / Boards;
        Console.WriteLine($"{Boards} Boards: {each:0} KiB of managed heap each; budget {BudgetKib} KiB; ratio to the budget {each / BudgetKib:0.00}");
        return each <= BudgetKib ? 0 : 1;
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
