using System.Collections.Concurrent;
using Drainboard.Domain;
using Drainboard.Testing;
using Microsoft.Playwright;
using NodaTime;
using Npgsql;

namespace Drainboard.Benchmarks.Load;

/// <summary>The program that holds the open Boards and makes the changes; told what to do line by line, so that the process that serves them is measured alone.</summary>
internal static class OpenBoardsPages
{
    private const int RealPages = 3;
    private const int Changes = 40;

    /// <param name="args">The process with the Boards, the other one, a key, the database, and fixtures as tail:position.</param>
    public static async Task<int> RunAsync(string[] args)
    {
        var (near, far, places) = (new Uri(args[0]), new Uri(args[1]), args[4].Split(',').Select(place => place.Split(':')).ToArray());
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(Browsers.Options());
        await using var context = await browser.NewContextAsync(new() { BaseURL = near.ToString() });
        var page = await context.NewPageAsync();
        await page.GotoAsync("/sign-in");
        await page.GetByRole(AriaRole.Button, new() { Name = "Greta Nkosi" }).ClickAsync();
        await page.WaitForURLAsync(url => !url.Contains("/sign-in", StringComparison.Ordinal));
        var cookies = string.Join("; ", (await context.CookiesAsync()).Select(cookie => $"{cookie.Name}={cookie.Value}"));
        await page.GotoAsync("about:blank");
        using var http = new HttpClient(new SocketsHttpHandler { UseCookies = false });
        var board = new Uri(near, "/board/QQMB");
        var boards = new ConcurrentBag<LivePageClient> { await LivePageClient.OpenAsync(http, board, cookies) };
        Console.WriteLine("first");
        await Console.In.ReadLineAsync();
        await Parallel.ForEachAsync(Enumerable.Range(1, OpenBoards.Boards - 1), new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (_, _) => boards.Add(await LivePageClient.OpenAsync(http, board, cookies)));
        Console.WriteLine("open");
        await Console.In.ReadLineAsync();

        var real = new List<IPage>();
        for (var number = 0; number < RealPages; number++)
        {
            var shown = await context.NewPageAsync();
            await shown.AddInitScriptAsync("window.seen = {}; new MutationObserver(() => { for (const link of document.querySelectorAll('a[href*=\"/defects/\"]')) window.seen[link.href.split('/')[4].slice(0, 36)] ??= performance.timeOrigin + performance.now(); }).observe(document, { subtree: true, childList: true, attributes: true });");
            await shown.GotoAsync("/board/QQMB");
            real.Add(shown);
        }

        await Task.Delay(3000);
        using var raw = new RawResults("boards");
        await using var database = NpgsqlDataSource.Create(args[3]);
        foreach (var (words, where) in new[] { ("in the other process", far), ("in the same process", near) })
        {
            var (sent, drawn) = (new List<double>(), new List<double>());
            using var writer = new HttpClient { BaseAddress = where };
            writer.DefaultRequestHeaders.Add("X-Api-Key", args[2]);
            for (var change = 0; change < Changes; change++)
            {
                var (id, place) = (NewId.At(SystemClock.Instance.GetCurrentInstant()), places[change % places.Length]);
                foreach (var one in boards)
                {
                    one.Forget();
                }

                var (status, body, _) = await writer.SendAsync(HttpMethod.Post, "/api/v1/reports", new { id, tail = place[0], position = place[1], symptom = "drainsSlowly", leak = "noneSeen", seenAt = (SystemClock.Instance.GetCurrentInstant() - Duration.FromMinutes(20)).ToString(), words = "Slow." });
                var defect = status == 201 ? body!["id"]!.GetValue<string>() : throw new InvalidOperationException($"{status} {body}");
                await Task.Delay(TimeSpan.FromMilliseconds(1500 + (change * 37 % 1000)));
                await using var ask = database.CreateCommand($"SELECT pg_xact_commit_timestamp(xmin) FROM \"Defects\" WHERE \"Id\" = '{defect}'");
                var committed = Instant.FromDateTimeUtc((DateTime)(await ask.ExecuteScalarAsync())!);
                sent.AddRange(boards.Select(one => one.SentAt(defect) is { } at ? (at - committed).TotalMilliseconds : double.PositiveInfinity));
                foreach (var shown in real)
                {
                    var at = await shown.EvaluateAsync<double?>($"window.seen['{defect}'] ?? null");
                    drawn.Add(at is { } when ? when - (committed.ToUnixTimeTicks() / 10_000.0) : double.PositiveInfinity);
                }
            }

            raw.Add("boards", 1, $"sent, change {words}", sent);
            raw.Add("boards", 1, $"drawn, change {words}", drawn);
            Console.WriteLine(FormattableString.Invariant($"| a change {words} | committed to sent, {OpenBoards.Boards} Boards: median {RawResults.Quantile(sent, 0.5):0} ms, p99 {RawResults.Quantile(sent, 0.99):0} ms | committed to drawn, {RealPages} in a browser: median {RawResults.Quantile(drawn, 0.5):0} ms, worst {drawn.Max():0} ms |"));
        }

        Console.WriteLine($"done {2 * Changes}");
        return 0;
    }
}
