using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;

namespace Drainboard.Browser.Tests;

/// <summary>
/// Every page: WCAG 2.2 AA by axe on a phone and at a desk, contrast and target size also by night and outdoors, nothing asked
/// of another origin, no console error, and no sideways scrolling.
/// </summary>
public abstract class EveryPage(Chromium chromium)
{
    private static readonly string[] Tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

    private static readonly string[] OfThemes = ["color-contrast", "target-size"];

    protected async Task AreCleanAndAskNothingOfOthersAsync(params string[] people)
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await Situations.OpenAsync(host, "leaking");
        var deferred = await Situations.DeferredAsync(host);
        var open = await Situations.OpenAsync(host);
        var done = await Situations.WorkDoneAsync(host);
        await Situations.PourAsync(host, "K-2", 18, reference: true);
        await Situations.PourAsync(host, "K-2", 40);
        await Situations.PublishCardAsync(host, "strainer-quick", quick: true);
        await Situations.PublishCardAsync(host, "strainer-steps", quick: false);
        var (quick, steps) = (await Situations.OpenAsync(host), await Situations.OpenAsync(host));
        await Situations.StartAsync(host, quick, "strainer-quick");
        await Situations.StartAsync(host, steps, "strainer-steps");
        await Situations.ColiformAsync(host);
        await Situations.PlanCheckAsync(host, "masts");
        var faults = new List<string>();
        foreach (var (who, paths) in new (string, string[])[]
        {
            ("", ["/sign-in", "/trouble?status=404", "/report"]),
            ("crew", ["/report?view=tails", "/report?tail=QQ-TSA", "/report?tail=QQ-TSA&at=K-1", "/report?tail=QQ-TSA&view=usable", "/report?tail=QQ-TSA&view=mine"]),
            ("tech", ["/board/QQAA", "/tails/QQ-TSA", "/tails/QQ-TSA/fixtures/K-1", "/tails/QQ-TSA/departure", "/warnings", $"/defects/{open}", $"/defects/{deferred}", $"/defects/{open}/defer", $"/defects/{open}/work", $"/defects/{open}/leak", $"/defects/{open}/correct", $"/defects/{done}/checks", $"/defects/{done}/leak-check", $"/tails/QQ-TSA/fixtures/K-1/where?defect={open}", "/tails/QQ-TSA/fixtures/T-A/where?toilet.T-A=fails", "/tails/QQ-TSA/fixtures/K-1/pour", "/tails/QQ-TSA/fixtures/K-2/pours?shape=prism&area=0.05&from=0.12&to=0.02&s=27&c=18", "/tails/QQ-TSA?water=supply", "/me", "/mine", "/tails/QQ-TSA/water", "/tails/QQ-TSA/potable?shut=PT-1", "/tails/QQ-TSA/waste", "/tails/QQ-TSA/round", "/checks", "/stations/QQAA/temperature", "/turns/QQAA", "/plan/QQAA", $"/defects/{quick}/card", $"/defects/{steps}/card/steps", $"/defects/{steps}/disturbed", $"/defects/{steps}/part"]),
            ("cert", [$"/defects/{done}/release", $"/defects/{done}/return", $"/defects/{open}/join", $"/defects/{open}/error", $"/defects/{steps}/card/inspect/close", "/handover/QQAA", "/turns", "/record", "/record?check=yes"]),
            ("control", ["/water", "/tails/QQ-TSA/water", "/clocks", "/clocks/print", "/clocks/follow", "/network", "/network/print", "/plan/QQAA/print", "/turns/QQAA/print", "/repeats", "/repeats?flagged=true", "/repeats/causes", "/repeats/causes?by=route", "/repeats/months?on=2025-06-01", "/repeats/cleaning", "/repeats/spares", "/repeats/places/T1/S-1?on=2025-06-01", "/tails/QQ-TSA/fixtures/K-1/repeats", $"/defects/{deferred}/notice", $"/defects/{deferred}/condition", $"/defects/{deferred}/extend", $"/defects/{deferred}/end-deferral"]),
            ("admin", ["/set-up", "/set-up/policies", "/set-up/import", "/set-up/people", "/set-up/keys", "/set-up/devices", "/layouts/T1/crew-notes", "/set-up/fleet", "/set-up/layouts", "/set-up/advice", "/set-up/turn-fit", "/set-up/waiting", "/set-up/water", "/set-up/tanks", "/set-up/checks", "/set-up/cards"]),
        }.Where(one => people.Contains(one.Item1)))
        {
            await using var device = await chromium.DeviceAsync(host);
            var page = who.Length == 0 ? await device.NewPageAsync() : await device.SignInAsync(who);
            Watch(page, host, faults);
            await page.RouteAsync(url => !IsOurs(url, host), route => route.AbortAsync());
            foreach (var path in paths)
            {
                await page.OpenAsync(path);
                await CheckAsync(page, path, faults);
            }
        }

        Assert.True(faults.Count == 0, string.Join(Environment.NewLine, faults.Distinct()));
    }

    private static bool IsOurs(string url, DrainboardHost host) =>
        url.StartsWith(host.Address.ToString(), StringComparison.Ordinal) || url.StartsWith("data:", StringComparison.Ordinal) || url.StartsWith("blob:", StringComparison.Ordinal);

    private static void Watch(IPage page, DrainboardHost host, List<string> faults)
    {
        page.Request += (_, request) =>
        {
            if (!IsOurs(request.Url, host))
            {
                faults.Add($"asks {request.Url}");
            }
        };
        page.Console += (_, message) =>
        {
            if (message.Type == "error" && !message.Text.Contains("404", StringComparison.Ordinal))
            {
                faults.Add($"{page.Url} console: {message.Text}");
            }
        };
        page.PageError += (_, error) => faults.Add($"{page.Url} script: {error}");
    }

    private static async Task CheckAsync(IPage page, string path, List<string> faults)
    {
        await page.SetViewportSizeAsync(390, 844);
        foreach (var theme in new[] { "outdoors", "night", "day" })
        {
            await page.EvaluateAsync("theme => document.documentElement.dataset.theme = theme", theme);
            await AxeAsync(page, $"{path} {theme}", theme == "day" ? RunOnlyOptions.Tags(Tags) : RunOnlyOptions.Rules(OfThemes), faults);
        }

        await page.SetViewportSizeAsync(1280, 844);
        await AxeAsync(page, $"{path} desk", RunOnlyOptions.Tags(Tags), faults);
    }

    private static async Task AxeAsync(IPage page, string what, RunOnlyOptions rules, List<string> faults)
    {
        // Labels of the component library fade from one theme's colour to the next: what is measured is the end of it.
        await page.EvaluateAsync("() => Promise.all(document.getAnimations().filter(one => one.effect?.getComputedTiming().iterations !== Infinity).map(one => one.finished.catch(() => {})))");
        var result = await page.RunAxe(new AxeRunOptions { RunOnly = rules });
        faults.AddRange(result.Violations.Select(violation => $"{what} axe {violation.Id}: {violation.Nodes[0].Html[..Math.Min(200, violation.Nodes[0].Html.Length)]} {violation.Nodes[0].Any.FirstOrDefault()?.Message}"));
        var over = await page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth");
        if (over > 0)
        {
            faults.Add($"{what} scrolls sideways by {over} px");
        }
    }
}

// A class each, so that they run side by side.
public sealed class EveryPageOnTheRampTests(Chromium chromium) : EveryPage(chromium)
{
    [Fact]
    public Task PagesOfTheRamp_AreCleanAndAskNothingOfOthers() => AreCleanAndAskNothingOfOthersAsync("", "crew", "tech");
}

public sealed class EveryPageInTheOfficeTests(Chromium chromium) : EveryPage(chromium)
{
    [Fact]
    public Task PagesOfTheOffice_AreCleanAndAskNothingOfOthers() => AreCleanAndAskNothingOfOthersAsync("cert", "control", "admin");
}
