using Microsoft.Extensions.DependencyInjection;
using Drainboard.Web.Features.Reliability;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>Pictures of the demo at fixed times, so that a change of looks shows in review.</summary>
internal static class Screenshots
{
    private const string Pours = "/tails/QQ-MRB/fixtures/K-G4-1";

    /// <param name="only">Part of the name of those to take; null takes all.</param>
    public static async Task<int> TakeAsync(string folder, string? only = null)
    {
        Directory.CreateDirectory(folder);
        var (host, reason) = await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite, Instant.FromUtc(2026, 11, 25, 14, 5), onPort: true, demo: true);
        if (host is null)
        {
            Console.Error.WriteLine(reason);
            return 1;
        }

        await using var running = host;
        await host.Services.GetRequiredService<StandingsMaker>().RunAsync(null, CancellationToken.None);
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(Browsers.Options());
        var (defect, leak, sink, tail, done) = await FindAsync(host);
        var (job, deferred) = (await BeginAsync(host), defect);
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
            ("report-usable-390", "Ida Sandoval", $"/report?tail={tail}&view=usable", 390, "day"),
            ("report-mine-390", "Ida Sandoval", $"/report?tail={tail}&view=mine", 390, "night"),
            ("report-820", "Ida Sandoval", $"/report?tail={tail}", 820, "day"),
            ("devices-1280", "Kim Varga", "/set-up/devices", 1280, "day"),
            ("set-up-1280", "Kim Varga", "/set-up", 1280, "day"),
            ("where-390", "Anouk Reyes", $"{sink}/where", 390, "day"),
            ("where-1280", "Anouk Reyes", $"{sink}/where", 1280, "day"),
            ("where-toilet-390", "Anouk Reyes", $"/tails/{tail}/fixtures/T-D/where", 390, "day"),
            ("pour-390", "Anouk Reyes", $"{sink}/pour", 390, "outdoors"),
            ("pours-390", "Anouk Reyes", $"{Pours}/pours", 390, "day"),
            ("drains-390", "Anouk Reyes", "/tails/QQ-MRQ?around=DL-A", 390, "night"),
            ("drains-1280", "Anouk Reyes", "/tails/QQ-MRQ?around=DL-A", 1280, "day"),
            ("supply-390", "Anouk Reyes", "/tails/QQ-MRA?water=supply", 390, "day"),
            ("leak-check-390", "Lena Marchetti", $"/defects/{done}/leak-check", 390, "day"),
            ("defect-done-390", "Lena Marchetti", $"/defects/{done}", 390, "day"),
            ("layouts-1280", "Kim Varga", "/set-up/layouts", 1280, "day"),
            ("advice-1280", "Kim Varga", "/set-up/advice", 1280, "day"),
            ("card-390", "Anouk Reyes", $"/defects/{job}/card", 390, "day"),
            ("steps-390", "Anouk Reyes", $"/defects/{job}/card/steps", 390, "outdoors"),
            ("item-with-card-390", "Anouk Reyes", $"/defects/{deferred}", 390, "day"),
            ("release-390", "Lena Marchetti", $"/defects/{done}/release", 390, "night"),
            ("disturbed-390", "Anouk Reyes", $"/defects/{job}/disturbed", 390, "day"),
            ("handover-390", "Greta Nkosi", "/handover/QQMB", 390, "day"),
            ("handover-1280", "Greta Nkosi", "/handover/QQMB", 1280, "day"),
            ("cards-1280", "Kim Varga", "/set-up/cards", 1280, "day"),
            ("turns-1280", "Greta Nkosi", "/turns/QQMB", 1280, "day"),
            ("turns-390", "Greta Nkosi", "/turns/QQMB", 390, "day"),
            ("plan-1280", "Greta Nkosi", "/plan/QQMB", 1280, "day"),
            ("plan-390", "Greta Nkosi", "/plan/QQMB", 390, "day"),
            ("water-390", "Yusuf Brandt", "/water", 390, "day"),
            ("water-1280", "Yusuf Brandt", "/water", 1280, "day"),
            ("water-tail-390", "Yusuf Brandt", "/tails/QQ-MRP/water", 390, "outdoors"),
            ("water-tail-1280", "Yusuf Brandt", "/tails/QQ-MRP/water", 1280, "night"),
            ("tank-potable-390", "Anouk Reyes", "/tails/QQ-MRA/potable", 390, "day"),
            ("tank-waste-1280", "Anouk Reyes", "/tails/QQ-MRU/waste", 1280, "day"),
            ("toilets-390", "Anouk Reyes", "/tails/QQ-MRV", 390, "day"),
            ("round-390", "Anouk Reyes", "/tails/QQ-MRA/round", 390, "outdoors"),
            ("round-1280", "Anouk Reyes", "/tails/QQ-MRU/round", 1280, "day"),
            ("round-tail-390", "Anouk Reyes", "/tails/QQ-MRA", 390, "day"),
            ("checks-390", "Greta Nkosi", "/checks", 390, "night"),
            ("checks-1280", "Greta Nkosi", "/checks", 1280, "day"),
            ("checks-set-up-1280", "Kim Varga", "/set-up/checks", 1280, "day"),
            ("temperature-390", "Greta Nkosi", "/stations/QQMB/temperature", 390, "day"),
            ("waiting-1280", "Kim Varga", "/set-up/waiting", 1280, "day"),
            ("network-1280", "Yusuf Brandt", "/network", 1280, "day"),
            ("network-390", "Yusuf Brandt", "/network", 390, "outdoors"),
            ("repeats-1280", "Yusuf Brandt", "/repeats", 1280, "day"),
            ("repeats-390", "Yusuf Brandt", "/repeats?flagged=true", 390, "day"),
            ("repeats-fixture-1280", "Yusuf Brandt", "/tails/QQ-MRA/fixtures/K-G4-2/repeats", 1280, "day"),
            ("repeats-fixture-390", "Anouk Reyes", "/tails/QQ-MRA/fixtures/K-G4-2/repeats", 390, "night"),
            ("repeats-place-1280", "Yusuf Brandt", "/repeats/places/W2/BR-A?on=2026-06-28", 1280, "day"),
            ("repeats-causes-1280", "Yusuf Brandt", "/repeats/causes?kind=galleySink", 1280, "day"),
            ("repeats-months-1280", "Yusuf Brandt", "/repeats/months?layout=N1&kind=galleySink&on=2026-06-28", 1280, "day"),
            ("repeats-cleaning-1280", "Yusuf Brandt", "/repeats/cleaning", 1280, "day"),
            ("repeats-spares-1280", "Yusuf Brandt", "/repeats/spares", 1280, "day"),
            ("sign-in-390", "", "/sign-in", 390, "day"),
        };
        foreach (var (name, who, path, width, theme) in shots.Where(shot => only is null || shot.Name.Contains(only, StringComparison.Ordinal)))
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
            if (name.StartsWith("layouts", StringComparison.Ordinal))
            {
                await page.GetByRole(AriaRole.Button, new() { Name = "Change N1" }).ClickAsync();
                await page.GetByRole(AriaRole.Button, new() { Name = "Aft drain mast" }).ClickAsync();
                await page.GetByRole(AriaRole.Button, new() { Name = "Change K-G4-1" }).ClickAsync();
            }

            if (name.StartsWith("plan", StringComparison.Ordinal))
            {
                await page.GetByRole(AriaRole.Button, new() { Name = "Plan it" }).ClickAsync();
                await page.GetByText("Will it hold?").WaitForAsync();
            }

            if (name.StartsWith("network", StringComparison.Ordinal))
            {
                await page.GetByRole(AriaRole.Button, new() { Name = "Plan it" }).ClickAsync();
                await page.GetByText("Planned, not given out yet").WaitForAsync();
            }

            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{name}.png"), FullPage = name.StartsWith("layouts", StringComparison.Ordinal) || name == "network-1280" || width < 800 && !name.StartsWith("board", StringComparison.Ordinal) && !name.StartsWith("clocks", StringComparison.Ordinal) });
            Console.WriteLine($"{name}.png");
        }

        return 0;
    }

    /// <summary>A sink that is open, with its work card begun and a step done.</summary>
    private static async Task<Guid> BeginAsync(DrainboardHost host)
    {
        await using var db = await host.Db.CreateDbContextAsync();
        var anouk = (await db.Users.SingleAsync(person => person.UserName == "tech.anouk")).AsActor();
        var (reported, layouts) = (await db.Defects.Where(defect => defect.State == Domain.Defects.DefectState.Open && defect.Symptom == Domain.Defects.Symptom.DrainsSlowly).ToArrayAsync(), await db.Layouts.ToDictionaryAsync(layout => layout.Id));
        var tails = await db.Tails.ToDictionaryAsync(tail => tail.Id);
        var sink = reported.First(defect => layouts[tails[defect.Tail].Layout].Find(defect.Position)!.Kind == Domain.Fleet.FixtureKind.GalleySink);
        var (starting, ticking) = ((Web.Features.Cards.StartJobHandler)host.Services.GetService(typeof(Web.Features.Cards.StartJobHandler))!, (Web.Features.Cards.RecordStepHandler)host.Services.GetService(typeof(Web.Features.Cards.RecordStepHandler))!);
        var id = Domain.NewId.At(host.Clock.GetCurrentInstant());
        Console.WriteLine((await starting.HandleAsync(new(anouk, id), sink.Id, new(id, "sink-strainer"), CancellationToken.None)).Trouble ?? "A card is begun.");
        foreach (var step in new[] { "protect", "open" })
        {
            var tick = Domain.NewId.At(host.Clock.GetCurrentInstant());
            await ticking.HandleAsync(new(anouk, tick), sink.Id, step, new(tick), null, CancellationToken.None);
        }

        return sink.Id.Value;
    }

    private static async Task<(Guid Defect, Guid Leak, string Sink, string Tail, Guid Done)> FindAsync(DrainboardHost host)
    {
        await using var db = await host.Db.CreateDbContextAsync();
        var deferred = await db.Defects.Where(defect => defect.State == Domain.Defects.DefectState.Deferred).OrderByDescending(defect => defect.RecordedAt).FirstAsync();
        var leaking = await db.Defects.Where(defect => defect.State == Domain.Defects.DefectState.Open && defect.Leak == Domain.Defects.LeakAnswer.Leaking).FirstAsync();
        var done = await db.Defects.Where(defect => defect.State == Domain.Defects.DefectState.WorkDone).OrderByDescending(defect => defect.RecordedAt).FirstAsync();
        var mark = Domain.Fleet.Registration.Parse("QQ-MRA");
        var rogue = await db.Tails.SingleAsync(tail => tail.Registration == mark);
        var tail = await db.Tails.SingleAsync(row => row.Id == leaking.Tail);
        return (deferred.Id.Value, leaking.Id.Value, $"/tails/{rogue.Registration}/fixtures/K-G4-2", tail.Registration.Value, done.Id.Value);
    }
}
