using System.Text.Json.Nodes;
using Drainboard.Data;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Web.Tests.Api;

/// <summary>Planned checks over HTTP on both databases: written, due, done, taken back, and a finding that is a report.</summary>
public sealed class PlannedChecksTests
{
    private const string Tail = "QQ-TSA";

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Check_WrittenDueDoneAndTakenBack(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        var tech = await host.ClientForAsync("tech");
        Assert.Equal(200, await SaveAsync(host, "masts", Masts, null));

        var round = await RoundAsync(host);
        Assert.Equal(["DM-A", "DM-F"], Lines(round).Select(line => (string)line["position"]!).Order());
        Assert.All(Lines(round), line => Assert.Equal("everyStay", (string?)line["reason"]));

        var id = await DoAsync(host, "masts", "DM-A");
        Assert.Equal(["DM-F"], Lines(await RoundAsync(host)).Select(line => (string)line["position"]!));
        Assert.Equal("good", (string?)(await RoundAsync(host))["done"]![0]!["outcome"]);

        // Not reached: it stays due, and is on record.
        await DoAsync(host, "masts", "DM-F", outcome: "notReached");
        Assert.Equal(["DM-F"], Lines(await RoundAsync(host)).Select(line => (string)line["position"]!));

        Assert.Equal(422, (await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done/{id}/withdrawal", new { reason = "" })).Status);
        Assert.Equal(200, (await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done/{id}/withdrawal", new { reason = "The wrong mast" })).Status);
        Assert.Equal(2, Lines(await RoundAsync(host)).Count);
        Assert.Equal(404, (await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done/{Guid.Empty}/withdrawal", new { reason = "x" })).Status);

        // The next version, and no more.
        Assert.Equal(412, await SaveAsync(host, "masts", Masts, "7"));
        Assert.Equal(200, await SaveAsync(host, "masts", Masts, "1", retired: true));
        Assert.Empty(Lines(await RoundAsync(host)));
        Assert.Equal("check-retired", (string?)(await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done", Body(host, "masts", "DM-A"))).Body!["refusal"]);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Finding_IsAReportInTheSameStep_OrNothingIsSaved(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        var tech = await host.ClientForAsync("tech");
        Assert.Equal(200, await SaveAsync(host, "masts", Masts, null));
        Assert.Equal(200, await SaveAsync(host, "streaks", Streaks, null));

        // Without what it takes nothing is saved, neither the check nor a report.
        foreach (var (finding, position, refusal) in new (object?, string?, string)[]
        {
            (null, "DM-A", "finding"),
            (new { symptom = "leaks", leak = "noneSeen" }, "DM-A", "leaks-but-no-leak"),
            (new { symptom = "leaks", leak = "leaking" }, "DM-A", "leak-where"),
            (new { symptom = "other", leak = "noneSeen" }, null, "say-what"),
            (new { symptom = "smell", leak = "noneSeen" }, null, "finding-where"),
            (new { symptom = "smell", leak = "noneSeen", position = "no such!" }, null, "no-such-position"),
        })
        {
            Assert.Equal(refusal, (string?)(await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done", Body(host, position is null ? "streaks" : "masts", position, "finding", finding))).Body!["refusal"]);
        }

        Assert.Empty((await RoundAsync(host))["done"]!.AsArray());
        Assert.Empty((await tech.ReadAsync("/api/v1/tails/QQ-TSA"))["items"]!.AsArray());

        var body = Body(host, "masts", "DM-A", "finding", new { symptom = "leaks", leak = "leaking", leakWhere = "behind the mast", words = "White streak" });
        var first = await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done", body);
        var second = await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done", body);
        Assert.Equal((201, 201, (string?)first.Body!["reference"]), (first.Status, second.Status, (string?)second.Body!["reference"]));
        var done = Assert.Single((await RoundAsync(host))["done"]!.AsArray());
        var defect = await Station.ReadAsync(host, (string)done!["defect"]!);
        Assert.Equal(("DM-A", "leaking"), ((string?)defect["position"], (string?)defect["leak"]));
        Assert.Contains("White streak", defect.ToJsonString(), StringComparison.Ordinal);
        Assert.DoesNotContain(Lines(await RoundAsync(host)), line => (string?)line["position"] == "DM-A");

        // The same again from the other check, said to be the same: added, not a second defect.
        var same = await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done", Body(host, "streaks", null, "finding", new { symptom = "leaks", leak = "leaking", leakWhere = "behind the mast", position = "DM-A", addTo = (string)done["defect"]! }));
        Assert.Equal((201, (string?)first.Body!["reference"]), (same.Status, (string?)same.Body!["reference"]));
        Assert.Single((await tech.ReadAsync("/api/v1/tails/QQ-TSA"))["items"]!.AsArray());

        // Said to be the same and told as something else: asked, not swallowed and not doubled.
        var other = await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done", Body(host, "streaks", null, "finding", new { symptom = "smell", leak = "noneSeen", addTo = (string)done["defect"]! }));
        Assert.Equal((422, "not-the-same"), (other.Status, (string?)other.Body!["refusal"]));
    }

    /// <summary>Ticked without a connection and sent late: it is what was asked for then, to the version that was read, at the station that had the tail.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task LateTick_IsOfThen(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        Assert.Equal(200, await SaveAsync(host, "masts", Masts, null));
        var then = host.Clock.GetCurrentInstant() + Duration.FromMinutes(5);
        host.Clock.Advance(Duration.FromMinutes(10));
        Assert.Equal(200, await SaveAsync(host, "masts", Masts with { Manual = "LC-2" }, "1"));
        Assert.Equal(200, await SaveAsync(host, "masts", Masts with { Manual = "LC-2" }, "2", retired: true));
        var tech = await host.ClientForAsync("tech");

        // Another technician's station has it by now.
        var control = await host.ClientForAsync("control.b");
        host.Clock.Advance(Duration.FromHours(80));
        var now = host.Clock.GetCurrentInstant();
        Assert.Equal(200, (await control.SendAsync(HttpMethod.Put, "/api/v1/turns/LATE-1", new { tail = Tail, station = "QQBB", estimatedArrival = Station.Iso(now - Duration.FromHours(1)), estimatedDeparture = Station.Iso(now + Duration.FromHours(2)), onBlocks = Station.Iso(now - Duration.FromHours(1)) })).Status);
        Assert.Equal(403, (await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done", Body(host, "masts", "DM-A"))).Status);
        var late = await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done", new { id = Domain.NewId.At(now), check = "masts", position = "DM-A", doneAt = Station.Iso(then), number = 1 });
        Assert.Equal(201, late.Status);
        await using var db = await host.Services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContextAsync(TestContext.Current.CancellationToken);
        Assert.Equal((1, Station.Iso(then)), await db.ChecksDone.SingleAsync(TestContext.Current.CancellationToken) is var done ? (done.Number, Station.Iso(done.At)) : default);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Cold_CallsForItsChecks_WhileItHolds(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        var (tech, now) = (await host.ClientForAsync("tech"), host.Clock.GetCurrentInstant());
        Assert.Equal(200, await SaveAsync(host, "drain-down", Streaks with { Title = "Drain the water", BelowCelsius = 2 }, null));

        var unknown = await RoundAsync(host);
        Assert.Equal((0, true), (Lines(unknown).Count, (bool)unknown["coldUnknown"]!));
        Assert.Equal(201, (await tech.SendAsync(HttpMethod.Post, "/api/v1/stations/QQAA/temperatures", new { id = Domain.NewId.At(now), celsius = 3 })).Status);
        Assert.Equal((0, false), (Lines(await RoundAsync(host)).Count, (bool)(await RoundAsync(host))["coldUnknown"]!));
        Assert.Equal(201, (await tech.SendAsync(HttpMethod.Post, "/api/v1/stations/QQAA/temperatures", new { id = Domain.NewId.At(now), celsius = -4, until = Station.Iso(now + Duration.FromHours(8)) })).Status);
        Assert.Equal("cold", (string?)Assert.Single(Lines(await RoundAsync(host)))["reason"]);

        // A tail without any defect is not quiet while water must be drained on it.
        var card = (await tech.ReadAsync("/api/v1/board/QQAA"))["cards"]!.AsArray().Single(card => (string?)card!["tail"] == Tail)!;
        Assert.Equal("Drain the water", (string?)card["checks"]!["cold"]![0]);
        await DoAsync(host, "drain-down", null);
        Assert.Empty(Lines(await RoundAsync(host)));

        foreach (var (body, status, refusal) in new (object, int, string)[]
        {
            (new { id = Domain.NewId.At(now), celsius = 99 }, 422, "celsius"),
            (new { id = Domain.NewId.At(now), celsius = 0, until = Station.Iso(now - Duration.FromHours(1)) }, 422, "until"),
            (new { id = Domain.NewId.At(now), celsius = 0, at = Station.Iso(now - Duration.FromHours(4)) }, 422, "too-old"),
        })
        {
            var answer = await tech.SendAsync(HttpMethod.Post, "/api/v1/stations/QQAA/temperatures", body);
            Assert.Equal((status, refusal), (answer.Status, (string?)answer.Body!["refusal"]));
        }

        Assert.Equal(404, (await tech.SendAsync(HttpMethod.Post, "/api/v1/stations/QQZZ/temperatures", new { id = Domain.NewId.At(now), celsius = 0 })).Status);
        var holding = (await tech.ReadAsync("/api/v1/stations/QQAA/temperature"))["holding"]!.AsArray();
        Assert.Equal([3, -4], holding.Select(told => (int)told!["celsius"]!));
    }

    /// <summary>What a reader of many tails sees is what the whole history says, whatever was done, sent late or taken back in whatever order.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Newest_IsKeptWhateverTheOrder(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        var tech = await host.ClientForAsync("tech");
        Assert.Equal(200, await SaveAsync(host, "heater", Masts with { EveryDays = 10 }, null));
        var random = new Random(5);
        List<(string Id, Instant At)> standing = [];
        var start = host.Clock.GetCurrentInstant();
        for (var step = 0; step < 40; step++)
        {
            if (standing.Count > 0 && random.Next(3) == 0)
            {
                var gone = standing[random.Next(standing.Count)];
                standing.Remove(gone);
                Assert.Equal(200, (await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done/{gone.Id}/withdrawal", new { reason = "x" })).Status);
            }
            else
            {
                var at = start - Duration.FromHours(random.Next(1, 500));
                standing.Add((await DoAsync(host, "heater", "DM-A", at: at), at));
            }

            await using var db = await host.Services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContextAsync(TestContext.Current.CancellationToken);
            var newest = await db.ChecksDone.Where(row => row.IsNewest).ToArrayAsync(TestContext.Current.CancellationToken);
            Assert.Equal(standing.Count == 0 ? null : standing.Max(one => one.At), newest.SingleOrDefault()?.At);
        }
    }

    private sealed record Terms(string Title, string Look, string? Kind, string Place, int EveryDays, int Minutes, string Manual, int? BelowCelsius = null);

    private static Terms Masts { get; } = new("Masts clean", "Clean and undamaged", "drainMast", "outside", 0, 1, "LC-1");

    private static Terms Streaks { get; } = new("No streaks", "None below the doors", null, "outside", 0, 2, "LC-1");

    private static IReadOnlyList<JsonNode> Lines(JsonNode round) => [.. round["lines"]!.AsArray().Select(line => line!)];

    private static async Task<JsonNode> RoundAsync(DrainboardHost host) => await (await host.ClientForAsync("tech")).ReadAsync($"/api/v1/tails/{Tail}/round");

    private static async Task<int> SaveAsync(DrainboardHost host, string code, Terms terms, string? version, bool retired = false)
    {
        var admin = await host.ClientForAsync("admin");
        return (await admin.SendAsync(HttpMethod.Put, $"/api/v1/planned-checks/{code}", new { id = Domain.NewId.At(host.Clock.GetCurrentInstant()), terms, retired }, version is null ? null : $"\"{version}\"", ifNoneMatch: version is null)).Status;
    }

    private static object Body(DrainboardHost host, string check, string? position, string outcome = "good", object? finding = null, Instant? at = null) =>
        new { id = Domain.NewId.At(host.Clock.GetCurrentInstant()), check, position, outcome, finding, doneAt = at is { } told ? Station.Iso(told) : null };

    private static async Task<string> DoAsync(DrainboardHost host, string check, string? position, string outcome = "good", Instant? at = null)
    {
        var answer = await (await host.ClientForAsync("tech")).SendAsync(HttpMethod.Post, $"/api/v1/tails/{Tail}/checks-done", Body(host, check, position, outcome, at: at));
        Assert.Equal(201, answer.Status);
        return (string)answer.Body!["id"]!;
    }
}
