using Microsoft.Playwright;

namespace Drainboard.Benchmarks;

internal static class Browsers
{
    public static BrowserTypeLaunchOptions Options() => new()
    {
        ExecutablePath = Environment.GetEnvironmentVariable("DRAINBOARD_CHROMIUM") is { Length: > 0 } named ? named : "/usr/bin/chromium",
        Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
    };
}
