using System.Diagnostics;
using System.Net.Http.Json;
using System.Text.Json.Nodes;
using Drainboard.Testing.Processes;
using Microsoft.Data.Sqlite;
using Microsoft.Playwright;

namespace Drainboard.Benchmarks;

/// <summary>
/// The crew's report under a random schedule of everything that goes wrong: the real program as a process of its own that is killed, and a
/// real browser on a profile of its own that is killed too. Every report that the page said was saved must be on the server once, with its photos.
/// </summary>
internal sealed class CrewFaults(int runs, int seed) : IAsyncDisposable
{
    private static readonly string[] Crew = ["crew.ida", "crew.tomas", "crew.noor"];

    private readonly Random _dice = new(seed);
    private readonly WebProcess _server = new(Repository.Program, Directory.CreateTempSubdirectory("drainboard-faults-").FullName);
    private readonly string _profile = Directory.CreateTempSubdirectory("drainboard-faults-tablet-").FullName;
    private readonly Dictionary<Guid, int> _saved = [];
    private readonly SortedDictionary<string, int> _faults = new(StringComparer.Ordinal);
    private IPlaywright? _playwright;
    private IBrowserContext? _tablet;
    private IPage? _page;
    private List<string> _positions = [];
    private int _refusedForRoom;

    // A browser gives keys and a worker to "localhost" over plain HTTP.
    private string Address => $"http://localhost:{_server.Address.Port}";

    public static async Task<int> RunAsync(string[] args)
    {
        await using var all = new CrewFaults(args is [_, var runs, ..] ? int.Parse(runs, System.Globalization.CultureInfo.InvariantCulture) : 200, args is [_, _, var seed] ? int.Parse(seed, System.Globalization.CultureInfo.InvariantCulture) : 20261125);
        return await all.RunAllAsync();
    }

    private async Task<int> RunAllAsync()
    {
        await _server.StartAsync();
        _playwright = await Playwright.CreateAsync();
        await OpenTabletAsync();
        await EnrolAsync();
        var (watch, lost, doubled, photosMissing, slowest) = (Stopwatch.StartNew(), 0, 0, 0, TimeSpan.Zero);
        for (var run = 1; run <= runs; run++)
        {
            await OneRunAsync();
            var healed = Stopwatch.StartNew();
            var left = await HealAsync();
            slowest = healed.Elapsed > slowest ? healed.Elapsed : slowest;
            (lost, doubled, photosMissing) = Compare();
            if (left > 0 || lost + doubled + photosMissing > 0)
            {
                Console.WriteLine($"run {run} (seed {seed}): {left} still on the device, {lost} lost, {doubled} doubled, {photosMissing} photos missing");
                Console.WriteLine(await _page!.EvaluateAsync<string>("async () => { const vault = await import('/report/vault.js'); return JSON.stringify(await Promise.all((await vault.reports()).filter(row => row.state !== 'received').map(async row => ({ ...row, sealed: await vault.unseal(row.owner, row.sealed), words: row.words && await vault.unseal(row.owner, row.words) })))); }"));
                return 1;
            }

            if (run % 20 == 0)
            {
                Console.WriteLine($"{run} runs, {_saved.Count} reports, {watch.Elapsed.TotalMinutes:0.0} min");
            }
        }

        Console.WriteLine($"seed {seed}, {runs} runs, {_saved.Count} reports with {_saved.Values.Sum()} photos, {_refusedForRoom} refused on the device for want of room (and said so), {watch.Elapsed.TotalMinutes:0.0} min; slowest to heal {slowest.TotalSeconds:0.0} s");
        Console.WriteLine($"lost {lost}, doubled {doubled}, photos missing {photosMissing}");
        foreach (var (fault, count) in _faults)
        {
            Console.WriteLine($"| {fault} | {count} |");
        }

        return 0;
    }

    /// <summary>Two to five reports, with a fault or none before and after each.</summary>
    private async Task OneRunAsync()
    {
        await SignInAsync(Crew[_dice.Next(Crew.Length)]);
        for (var reports = 2 + _dice.Next(4); reports > 0; reports--)
        {
            await FaultAsync();
            await ReportAsync(_dice.Next(3) == 0 ? 1 + _dice.Next(2) : 0);
            if (_dice.Next(2) == 0)
            {
                await FaultAsync();
            }
        }
    }

    private async Task FaultAsync()
    {
        var (name, act) = _dice.Next(12) switch
        {
            0 => ("airplane mode", (Func<Task>)(() => _tablet!.SetOfflineAsync(true))),
            1 => ("connection back", () => _tablet!.SetOfflineAsync(false)),
            2 => ("portal answers for us", PortalAsync),
            3 => ("answer lost after the server took it", AnswersLostAsync),
            4 => ("server killed and started again", RestartServerAsync),
            5 => ("tab killed", KillTabAsync),
            6 => ("tablet restarted", RestartTabletAsync),
            7 => ("two tabs send at once", TwoTabsAsync),
            8 => ("ticket void", VoidTicketAsync),
            9 => ("clock a day wrong", ClockAsync),
            10 => ("another person signs in", () => SignInAsync(Crew[_dice.Next(Crew.Length)])),
            _ => ("upload cut off in a photo", CutPhotosAsync),
        };
        _faults[name] = _faults.GetValueOrDefault(name) + 1;
        await act();
    }

    /// <summary>Saves one report as the page does; counts it only when the page said that it is saved.</summary>
    private async Task ReportAsync(int photos)
    {
        var full = _dice.Next(12) == 0;
        if (full)
        {
            _faults["storage full while saving"] = _faults.GetValueOrDefault("storage full while saving") + 1;
        }

        var saved = await _page!.EvaluateAsync<string?>(
            """
            async ([position, photos, full]) => {
              const outbox = await import("/report/outbox.js"), vault = await import("/report/vault.js"), people = await import("/report/people.js"), server = await import("/report/server.js");
              const person = await people.current() ?? (await people.everybody())[0];
              const id = outbox.newId(), shots = [];
              for (let at = 0; at < photos; at++) {
                const canvas = Object.assign(document.createElement("canvas"), { width: 900, height: 700 }), pen = canvas.getContext("2d");
                for (let dot = 0; dot < 4000; dot++) { pen.fillStyle = `hsl(${Math.random() * 360} 80% 50%)`; pen.fillRect(Math.random() * 900, Math.random() * 700, 12, 12); }
                const bytes = new Uint8Array(await (await new Promise(done => canvas.toBlob(done, "image/jpeg", 0.9))).arrayBuffer());
                const sha = [...new Uint8Array(await crypto.subtle.digest("SHA-256", bytes))].map(byte => byte.toString(16).padStart(2, "0")).join("");
                await vault.putPhoto(person.id, id, sha, bytes);
                shots.push({ sha, size: bytes.length, state: "kept" });
              }
              const now = server.deviceTime();
              const wish = { id, tail: "QQ-MRA", position, symptom: "drainsSlowly", leak: "noneSeen", leakWhere: "", phase: "inFlight", words: "", seenAt: now, savedAt: now, offsetMinutes: 0, others: "didNotLook", alsoAt: [], addTo: null, log: null };
              const put = IDBObjectStore.prototype.put;
              if (full) IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError"); };
              try { await outbox.add(person.id, { wish, tail: "QQ-MRA", name: "Sink", photos: shots }); } catch { return null; } finally { IDBObjectStore.prototype.put = put; }
              outbox.sendAll();
              return id;
            }
            """,
            new object[] { _positions[_dice.Next(_positions.Count)], photos, full });
        if (saved is null)
        {
            _refusedForRoom++;
            return;
        }

        _saved[Guid.Parse(saved)] = photos;
    }

    private Task PortalAsync() => _tablet!.RouteAsync("**/api/**", route => route.FulfillAsync(new() { Status = 200, ContentType = "text/html", Body = "<html>Welcome on board</html>" }));

    private Task AnswersLostAsync() => _tablet!.RouteAsync("**/api/v1/reports", async route =>
    {
        try
        {
            await route.FetchAsync();
        }
        catch (PlaywrightException)
        {
            // No connection either.
        }

        await route.AbortAsync();
    });

    private Task CutPhotosAsync()
    {
        var pieces = 0;
        return _tablet!.RouteAsync("**/photos/**", route => route.Request.Method == "PUT" && ++pieces % 2 == 0 ? route.AbortAsync() : route.ContinueAsync());
    }

    private async Task RestartServerAsync()
    {
        await _server.KillAsync();
        await _server.StartAsync();
    }

    private async Task KillTabAsync()
    {
        await _page!.CloseAsync();
        await OpenPageAsync();
    }

    private async Task RestartTabletAsync()
    {
        await _tablet!.CloseAsync();
        await OpenTabletAsync();
    }

    private async Task TwoTabsAsync()
    {
        var other = await _tablet!.NewPageAsync();
        await other.GotoAsync($"{Address}/report");
        await other.Locator("[data-ready]").WaitForAsync();
        await Task.WhenAll(SendAsync(_page!), SendAsync(other));
        await other.CloseAsync();
    }

    private async Task VoidTicketAsync() =>
        await _page!.EvaluateAsync("async () => { const vault = await import('/report/vault.js'); const all = await vault.kept('people') ?? []; await vault.keep('people', all.map(one => ({ ...one, ticket: 'void' }))); }");

    private async Task ClockAsync() => await _page!.Clock.SetSystemTimeAsync((NodaTime.SystemClock.Instance.GetCurrentInstant() + NodaTime.Duration.FromDays(_dice.Next(2) == 0 ? -1 : 1)).ToDateTimeUtc());

    /// <summary>As on board without a connection: held against what the tablet kept from the last time.</summary>
    private async Task SignInAsync(string who) =>
        await _page!.EvaluateAsync("async ([who, pin]) => { const people = await import('/report/people.js'); await people.signIn(who, pin); }", new[] { who, Web.Features.Demo.DemoLoader.Pin });

    private static Task SendAsync(IPage page) => page.EvaluateAsync("async () => { await (await import('/report/outbox.js')).sendAll(true); }");

    /// <summary>Everything is well again, and everybody has signed in: how many reports are still on the device after a minute?</summary>
    private async Task<int> HealAsync()
    {
        await _tablet!.UnrouteAllAsync();
        await _tablet.SetOfflineAsync(false);
        await KillTabAsync();
        foreach (var who in Crew)
        {
            await SignInAsync(who);
        }

        for (var tries = 0; tries < 60; tries++)
        {
            await SendAsync(_page!);
            var left = await _page!.EvaluateAsync<int>("async () => (await (await import('/report/outbox.js')).unsent()).length");
            if (left == 0)
            {
                return 0;
            }

            foreach (var who in Crew)
            {
                await SignInAsync(who);
            }

            await Task.Delay(500);
        }

        return await _page!.EvaluateAsync<int>("async () => (await (await import('/report/outbox.js')).unsent()).length");
    }

    private (int Lost, int Doubled, int PhotosMissing) Compare()
    {
        using var db = new SqliteConnection($"Data Source={Path.Combine(_server.Folder, "drainboard.db")};Mode=ReadOnly;Pooling=False");
        db.Open();
        using var command = db.CreateCommand();
        command.CommandText = "SELECT Id, Photos FROM Reports WHERE Device IS NOT NULL";
        var there = new List<(Guid Id, int Photos)>();
        using (var rows = command.ExecuteReader())
        {
            while (rows.Read())
            {
                there.Add((Guid.Parse(rows.GetString(0)), JsonNode.Parse(rows.GetString(1))!.AsArray().Count));
            }
        }

        var byId = there.ToLookup(row => row.Id);
        return (_saved.Keys.Count(id => !byId.Contains(id)), there.Count - there.DistinctBy(row => row.Id).Count() + there.Count(row => !_saved.ContainsKey(row.Id)), _saved.Sum(one => Math.Abs(one.Value - byId[one.Key].Sum(row => row.Photos))));
    }

    private async Task EnrolAsync()
    {
        using var client = new HttpClient { BaseAddress = new Uri(Address) };
        client.DefaultRequestHeaders.Add("X-Api-Key", (await File.ReadAllTextAsync(Path.Combine(_server.Folder, "demo-api-key.txt"))).Trim());
        using var made = await client.PostAsJsonAsync("/api/v1/devices", new { id = Domain.NewId.At(NodaTime.SystemClock.Instance.GetCurrentInstant()), name = "Tablet" });
        var code = JsonNode.Parse(await made.Content.ReadAsStringAsync())!["code"]!.GetValue<string>();
        var cabin = JsonNode.Parse(await client.GetStringAsync(new Uri("/api/v1/tails/QQ-MRA", UriKind.Relative)))!;
        _positions = [.. cabin["areas"]!.AsArray().SelectMany(area => area!["fixtures"]!.AsArray()).Where(fixture => fixture!["kind"]!.GetValue<string>() is "galley sink" or "lavatory basin").Select(fixture => fixture!["position"]!.GetValue<string>())];
        await _page!.EvaluateAsync("async code => { await (await import('/report/people.js')).enrol(code); }", code);
        foreach (var who in Crew)
        {
            await SignInAsync(who);
        }

        await KillTabAsync();
        await _page.EvaluateAsync("async () => { await navigator.serviceWorker.ready; }");
    }

    private async Task OpenTabletAsync()
    {
        var options = Browsers.Options();
        _tablet = await _playwright!.Chromium.LaunchPersistentContextAsync(_profile, new() { ExecutablePath = options.ExecutablePath, Args = options.Args, ViewportSize = new() { Width = 820, Height = 1180 } });
        await OpenPageAsync();
    }

    private async Task OpenPageAsync()
    {
        _page = await _tablet!.NewPageAsync();
        await _page.GotoAsync($"{Address}/report");
        await _page.Locator("[data-ready]").WaitForAsync();
    }

    public async ValueTask DisposeAsync()
    {
        if (_tablet is not null)
        {
            await _tablet.CloseAsync();
        }

        _playwright?.Dispose();
        await _server.DisposeAsync();
    }
}
