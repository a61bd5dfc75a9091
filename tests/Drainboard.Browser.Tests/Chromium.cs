using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.Playwright;

[assembly: AssemblyFixture(typeof(Drainboard.Browser.Tests.Chromium))]

namespace Drainboard.Browser.Tests;

/// <summary>One real Chromium for all tests; each test opens its own contexts in it, which share nothing.</summary>
public sealed class Chromium : IAsyncLifetime
{
    private static readonly string[] Arguments = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];

    private IPlaywright? _playwright;

    private static string Path => Environment.GetEnvironmentVariable("DRAINBOARD_CHROMIUM") is { Length: > 0 } named ? named : "/usr/bin/chromium";

    public IBrowser? Browser { get; private set; }

    public async ValueTask InitializeAsync()
    {
        if (!File.Exists(Path))
        {
            return;
        }

        _playwright = await Playwright.CreateAsync();
        Browser = await _playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = Path,
            Args = Arguments,
        });
    }

    public async ValueTask DisposeAsync()
    {
        if (Browser is not null)
        {
            await ClosingInTime.EndAsync(Browser.CloseAsync());
        }

        _playwright?.Dispose();
    }

    /// <summary>The program on a real port over a database of its own; skips with the reason where either is missing.</summary>
    public async Task<DrainboardHost> HostAsync(DatabaseKind kind, Instant? now = null, bool demo = false)
    {
        Assert.SkipWhen(Browser is null, "No Chromium: bash tests/run.sh installs it, or set DRAINBOARD_CHROMIUM.");
        var (host, reason) = await DrainboardHost.TryStartAsync(kind, now, onPort: true, demo: demo);
        Assert.SkipWhen(host is null, reason);
        return host!;
    }

    /// <summary>A tablet with its storage in a folder: closed and opened again over the same folder, it has been restarted.</summary>
    public async Task<IBrowserContext> TabletAsync(DrainboardHost host, string folder)
    {
        var context = await _playwright!.Chromium.LaunchPersistentContextAsync(folder, new() { ExecutablePath = Path, Args = Arguments, BaseURL = host.Address.ToString(), ViewportSize = new() { Width = 820, Height = 1180 }, HasTouch = true });
        context.SetDefaultTimeout(60_000);
        return context;
    }

    /// <summary>A device of one person: a context with its own cookies and storage. Anything it asks of another origin fails the test.</summary>
    public Task<IBrowserContext> DeviceAsync(DrainboardHost host, int width = 390, int height = 844, string theme = "day") => DeviceAsync(host.Address, width, height, theme);

    public async Task<IBrowserContext> DeviceAsync(Uri address, int width = 390, int height = 844, string theme = "day")
    {
        var context = await Browser!.NewContextAsync(new() { BaseURL = address.ToString(), ViewportSize = new() { Width = width, Height = height }, HasTouch = width < 800, ColorScheme = theme == "night" ? ColorScheme.Dark : ColorScheme.Light });
        context.SetDefaultTimeout(60_000);
        await context.AddCookiesAsync([new() { Name = "theme", Value = theme, Url = address.ToString() }]);
        return ClosingInTime.Of(context);
    }
}
