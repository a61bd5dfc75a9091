using System.Diagnostics;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Paper;

/// <summary>The papers as a reader of PDF sees them: text read back by another program, pages of the size that was asked for, black and white only.</summary>
public sealed class PapersTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [InlineData("", "595.32 x 841.92", "595 x 842")]
    [InlineData("?size=letter", "612 x 792", "612 x 792")]
    public async Task LogPage_ReadBack_SaysWhoSignedUnderWhat(string size, string exact, string rounded)
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.WorkDoneAsync(host);
        await Station.MustAsync(host, "cert", defect, "rectification/release", new { outcome = "rectified", openTasks = "Replace the cap seal", log = Station.Log(host.Clock.GetCurrentInstant(), "7"), signingCode = SmallFleet.SigningCode });

        var (text, info) = await ReadAsync(host, $"/api/v1/defects/{defect}/log-page.pdf{size}");

        // 14 CFR 43.9(a): description or reference, date of completion, who did it, signature with number and kind.
        Assert.Contains("Strainer cleaned and refitted.", text, StringComparison.Ordinal);
        Assert.Contains("To TEST-AMM 38-31. Completed 10:00Z Mon 26 Jan by Tech Person.", text, StringComparison.Ordinal);
        Assert.Contains("Released: Cert Person, certifying licence C-200, Test operator", text, StringComparison.Ordinal);
        Assert.Contains("Open tasks: Replace the cap seal", text, StringComparison.Ordinal);
        Assert.Contains("/report?tail=QQ-TSA&at=K-1", text, StringComparison.Ordinal);
        Assert.Contains("Working copy. The aircraft log governs", text, StringComparison.Ordinal);
        Assert.True(info.Contains(exact, StringComparison.Ordinal) || info.Contains(rounded, StringComparison.Ordinal), info);
    }

    [Fact]
    public async Task ReportCodes_OfOnePartOfTheCabin_NameEachFixtureAndSayWhoMustApproveALabel()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);

        var (text, _) = await ReadAsync(host, "/api/v1/tails/QQ-TSA/report-codes.pdf?area=Forward");

        Assert.Contains("QQ-TSA, Forward", text, StringComparison.Ordinal);
        Assert.Contains("/report?tail=QQ-TSA&at=T-A", text, StringComparison.Ordinal);
        Assert.DoesNotContain("at=K-1", text, StringComparison.Ordinal);
        Assert.Contains("may need design approval", text, StringComparison.Ordinal);
    }

    /// <summary>Drafts for an authority say their deadline and mark what is missing; nothing extended, no notice.</summary>
    [Fact]
    public async Task Drafts_ForAnAuthority_SayTheDeadlineAndMarkWhatIsMissing()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.DeferredAsync(host, tail: "QQ-TSA");
        var control = await host.ClientForAsync("control");
        Assert.Equal(404, (await control.SendAsync(HttpMethod.Get, $"/api/v1/defects/{defect}/extension-notice.pdf", null)).Status);
        await Station.MustAsync(host, "control", defect, "deferral/extension", new { days = 3, reason = "Part on order." });

        var (notice, _) = await ReadAsync(host, $"/api/v1/defects/{defect}/extension-notice.pdf");
        Assert.Contains("By 10:00Z Tue 27 Jan.", notice, StringComparison.Ordinal);
        Assert.Contains("Reason: Part on order.", notice, StringComparison.Ordinal);
        Assert.Contains("Authority and office: [MISSING: fill in]", notice, StringComparison.Ordinal);
        Assert.Contains("Nothing is sent from here", notice, StringComparison.Ordinal);

        // Seen on Monday 26 January 2026 about 10:00Z: the day ends on Tuesday 09:00, 96 hours later it is Saturday, so Monday 2 February.
        var (difficulty, _) = await ReadAsync(host, $"/api/v1/defects/{defect}/service-difficulty.pdf");
        Assert.Contains("By 2 Feb 2026 (moved from the weekend)", difficulty, StringComparison.Ordinal);
        var text = await control.GetStringAsync(new Uri($"/api/v1/defects/{defect}/service-difficulty.txt", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Contains("- Nature of the difficulty: Drains slowly", text, StringComparison.Ordinal);
        Assert.Contains("- Submitter: [MISSING: fill in]", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Placard_ReadBack_SaysItsWordsAndUntilWhen()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.DeferredAsync(host, tail: "QQ-TSB");

        var (text, _) = await ReadAsync(host, $"/api/v1/defects/{defect}/placard.pdf");

        Assert.Contains("SINK INOPERATIVE", text, StringComparison.Ordinal);
        Assert.Contains("MEL 38-01", text, StringComparison.Ordinal);
        Assert.Contains("Until 00:00Z Fri 6 Feb at the latest.", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Placard_RenderedToPixels_IsBlackAndWhiteAndItsCodeIsDark()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.DeferredAsync(host, tail: "QQ-TSB");
        var file = await SaveAsync(host, $"/api/v1/defects/{defect}/placard.pdf");
        await RunAsync("pdftoppm", "-r", "60", "-singlefile", file, file);
        var (width, height, pixels) = Ppm(await File.ReadAllBytesAsync($"{file}.ppm", TestContext.Current.CancellationToken));

        Assert.Equal((496, 702), (width, height));
        Assert.All(Enumerable.Range(0, pixels.Length / 3), at => Assert.True(pixels[at * 3] == pixels[(at * 3) + 1] && pixels[at * 3] == pixels[(at * 3) + 2]));
        var dark = Enumerable.Range(0, pixels.Length / 3).Count(at => pixels[at * 3] < 100);
        Assert.InRange(dark, 2000, width * height / 8);
    }

    [Fact]
    public async Task Placard_WithoutADeferral_IsRefusedInWords()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.OpenAsync(host, "QQ-TSB");
        var (status, body, _) = await (await host.ClientForAsync("tech")).SendAsync(HttpMethod.Get, $"/api/v1/defects/{defect}/placard.pdf", null);
        Assert.Equal((422, "no-deferral"), (status, body!["refusal"]!.GetValue<string>()));
    }

    private static async Task<(string Text, string Info)> ReadAsync(DrainboardHost host, string path)
    {
        var file = await SaveAsync(host, path);
        return (string.Join(' ', (await RunAsync("pdftotext", "-layout", file, "-")).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), await RunAsync("pdfinfo", file));
    }

    private static async Task<string> SaveAsync(DrainboardHost host, string path)
    {
        var file = Path.Combine(Directory.CreateTempSubdirectory("drainboard-paper-").FullName, "paper.pdf");
        await File.WriteAllBytesAsync(file, await (await host.ClientForAsync("tech")).GetByteArrayAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken), TestContext.Current.CancellationToken);
        return file;
    }

    private static async Task<string> RunAsync(string tool, params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(tool, arguments) { RedirectStandardOutput = true })!;
        var text = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(0, process.ExitCode);
        return text;
    }

    // A binary PPM: "P6", width, height, 255, then three bytes a pixel.
    private static (int Width, int Height, byte[] Pixels) Ppm(byte[] file)
    {
        var (words, at) = (new List<string>(), 0);
        while (words.Count < 4)
        {
            var end = Array.FindIndex(file, at, one => char.IsWhiteSpace((char)one));
            words.Add(System.Text.Encoding.ASCII.GetString(file, at, end - at));
            at = end + 1;
        }

        return (int.Parse(words[1], System.Globalization.CultureInfo.InvariantCulture), int.Parse(words[2], System.Globalization.CultureInfo.InvariantCulture), file[at..]);
    }
}
