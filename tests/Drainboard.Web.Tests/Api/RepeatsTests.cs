using System.Text;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Reliability;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Api;

public sealed class RepeatsTests
{
    /// <summary>What is hidden in the invented fleet is found by the numbers alone: three rogue fixtures, a branch, and a campaign that worked.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Demo_Judged_ShowsItsRoguesItsBranchAndItsCampaign(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var (started, reason) = await DrainboardHost.TryStartAsync(kind, Instant.FromUtc(2026, 11, 25, 14, 5), demo: true);
        Assert.SkipWhen(started is null, reason);
        await using var host = started!;
        var made = await host.Services.GetRequiredService<StandingsMaker>().RunAsync(null, stop);
        await using var db = await host.Db.CreateDbContextAsync(stop);
        var client = await host.ClientForAsync((await db.Users.OrderBy(person => person.UserName).FirstAsync(stop)).UserName!);

        var view = await client.ReadAsync("/api/v1/repeats?flagged=true&lines=1000");
        var first = view["lines"]!.AsArray().Take(5).Select(line => $"{line!["tail"]?.GetValue<string>() ?? line["layout"]!.GetValue<string>()} {line["position"]!.GetValue<string>()}").ToArray();
        Assert.Superset(new HashSet<string> { "QQ-MRA K-G4-2", "QQ-MRH K-G1-1", "QQ-MRQ K-G3-2", "W2 BR-A" }, first.ToHashSet());
        Assert.Equal(made!.Number, view["snapshot"]!["number"]!.GetValue<int>());

        // No other single fixture is taken for a rogue: what is asked of the false discovery rate.
        var fixtures = view["lines"]!.AsArray().Where(line => line!["scope"]!.GetValue<string>() == "fixture").ToArray();
        Assert.InRange(fixtures.Length, 3, 4);

        // The bad branch by itself: what was found there, against the other branches of its layout.
        var branch = await client.ReadAsync("/api/v1/repeats/places/W2/BR-A?on=2026-05-01");
        Assert.True(branch["own"]!.AsArray()[^1]!["low"]!.GetValue<double>() > branch["fleet"]!.AsArray()[^1]!["high"]!.GetValue<double>(), branch["standing"]!.ToJsonString());
        Assert.NotNull(branch["change"]);

        // From 150 days back the strainers of N1 were cleaned at every second night stop, and galley sinks there were 0.45 times as likely to be next.
        var change = await client.ReadAsync("/api/v1/repeats/change?on=2026-06-28&layout=N1&kind=galleySink");
        Assert.True(change["high"]!.GetValue<double>() < 1, change.ToJsonString());
        Assert.InRange(0.55, change["low"]!.GetValue<double>(), change["high"]!.GetValue<double>());
    }

    /// <summary>Every file and view answers on both databases, filters narrow, and the numbers agree with each other.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Views_OfOneFixturesTrouble_AgreeWithEachOther(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var (started, reason) = await DrainboardHost.TryStartAsync(kind);
        Assert.SkipWhen(started is null, reason);
        await using var host = started!;
        await LiveAsync(host, 6);
        var client = await host.ClientForAsync("control");
        var (status, made, _) = await client.SendAsync(HttpMethod.Post, "/api/v1/repeats/snapshots", null);
        Assert.Equal(201, status);

        var view = await client.ReadAsync("/api/v1/repeats?tail=QQ-TSA&scope=fixture");
        var line = Assert.Single(view["lines"]!.AsArray());
        Assert.Equal((6, "K-1", made!["number"]!.GetValue<int>()), (line!["events"]!.GetValue<int>(), line["position"]!.GetValue<string>(), view["snapshot"]!["number"]!.GetValue<int>()));
        Assert.Empty((await client.ReadAsync("/api/v1/repeats?tail=QQ-TSA&family=flushing"))["lines"]!.AsArray());

        var one = await client.ReadAsync("/api/v1/tails/QQ-TSA/fixtures/K-1/repeats");
        Assert.Equal((6, 6, 6), (one["days"]!.AsArray().Count, one["tried"]!.AsArray().Count, one["standing"]!["events"]!.GetValue<int>()));
        Assert.StartsWith("6 write-ups of this kind in", one["line"]!.GetValue<string>(), StringComparison.Ordinal);

        // Three tails of the layout are watched; the mean of six faults on one of them is two (Nelson's mean cumulative function without ties or ends).
        Assert.Equal(2, one["fleet"]!.AsArray()[^1]!["mean"]!.GetValue<double>(), 9);

        // All six were found at one strainer, which three tails have: two a tail.
        var place = await client.ReadAsync("/api/v1/repeats/places/T1/S-1");
        Assert.Equal((6, 3, 6), (place["found"]![0]!["count"]!.GetValue<int>(), place["tails"]!.GetValue<int>(), place["byTail"]![0]!["count"]!.GetValue<int>()));
        Assert.Equal(2, place["own"]!.AsArray()[^1]!["mean"]!.GetValue<double>(), 9);
        Assert.Equal(404, (await client.SendAsync(HttpMethod.Get, "/api/v1/repeats/places/T1/NO-9", null)).Status);

        var causes = await client.ReadAsync("/api/v1/repeats/causes?layout=T1&kind=galleySink");
        Assert.Equal(("Coffee grounds", 6, 6), (causes["lines"]![0]!["label"]!.GetValue<string>(), causes["lines"]![0]!["count"]!.GetValue<int>(), causes["galleys"]![0]!["preventable"]!.GetValue<int>()));
        Assert.Equal(5, (await client.ReadAsync("/api/v1/repeats/cleaning?layout=T1&position=S-1"))["ages"]!.AsArray().Count(age => age!["blocked"]!.GetValue<bool>()));
        foreach (var by in Enum.GetNames<CauseBy>())
        {
            Assert.Equal(6, (await client.ReadAsync($"/api/v1/repeats/causes?by={by}"))["lines"]!.AsArray().Sum(cause => cause!["count"]!.GetValue<int>()));
        }

        foreach (var (path, type) in new[] { ("/repeats.csv", "text/csv"), ("/repeats.svg", "image/svg+xml"), ("/repeats/causes.csv", "text/csv"), ("/repeats/causes.svg", "image/svg+xml"), ("/repeats/months.csv", "text/csv"), ("/repeats/months.svg", "image/svg+xml"), ("/repeats/cleaning.csv?layout=T1&position=S-1", "text/csv"), ("/repeats/cleaning.svg?layout=T1&position=S-1", "image/svg+xml"), ("/tails/QQ-TSA/fixtures/K-1/repeats.csv", "text/csv"), ("/tails/QQ-TSA/fixtures/K-1/repeats.svg", "image/svg+xml"), ("/repeats/places/T1/S-1/csv", "text/csv"), ("/repeats/places/T1/S-1/svg", "image/svg+xml"), ("/repeats/month.pdf", "application/pdf") })
        {
            using var file = await client.GetAsync(new Uri("/api/v1" + path, UriKind.Relative), stop);
            var text = Encoding.Latin1.GetString(await file.Content.ReadAsByteArrayAsync(stop));
            Assert.True(file.IsSuccessStatusCode && file.Content.Headers.ContentType!.MediaType == type, $"{path}: {(int)file.StatusCode} {text}");
            Assert.DoesNotContain("NaN", text, StringComparison.Ordinal);
            Assert.DoesNotContain("∞", text, StringComparison.Ordinal);
        }
    }

    /// <summary>Nothing on record, one tail alone, a day in the future: words, no numbers that are none.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Views_OfNothing_SaySo(DatabaseKind kind)
    {
        var (started, reason) = await DrainboardHost.TryStartAsync(kind);
        Assert.SkipWhen(started is null, reason);
        await using var host = started!;
        var client = await host.ClientForAsync("engineer");
        Assert.Equal(201, (await client.SendAsync(HttpMethod.Post, "/api/v1/repeats/snapshots", null)).Status);
        Assert.Empty((await client.ReadAsync("/api/v1/repeats"))["lines"]!.AsArray());
        Assert.Empty((await client.ReadAsync("/api/v1/repeats/causes"))["lines"]!.AsArray());
        Assert.All((await client.ReadAsync("/api/v1/repeats/months"))["lines"]!.AsArray(), month => Assert.Null(month!["level"]));
        Assert.Null((await client.ReadAsync("/api/v1/tails/QQ-TSA/fixtures/K-1/repeats"))["line"]);
        Assert.Null((await client.ReadAsync("/api/v1/repeats/cleaning?layout=T1&position=S-1"))["interval"]);
        Assert.Equal(0, (await client.ReadAsync("/api/v1/repeats/spares?kind=toilet"))["stock"]!.GetValue<int>());
        foreach (var (path, expected, member) in new[] { ("change?on=tomorrow", 400, "on"), ("change?on=2199-01-01", 422, "no-exposure"), ("cleaning?layout=T1&position=K-1", 404, "not-found"), ("cleaning?layout=T1&position=S-1&planned=0", 400, "planned"), ("spares?kind=spoon", 400, "kind"), ("spares?kind=toilet&service=1", 400, "service") })
        {
            var (status, body, _) = await client.SendAsync(HttpMethod.Get, $"/api/v1/repeats/{path}", null);
            Assert.Equal(expected, status);
            Assert.True(status == 400 ? body!["errors"]!.AsObject().ContainsKey(member) : body!["refusal"]!.GetValue<string>() == member, body.ToJsonString());
        }
    }

    /// <summary>The page's own day: two processes or two people at once make two numbered snapshots, never half of one.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Snapshots_MadeAtOnce_AreEachWhole(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var (started, reason) = await DrainboardHost.TryStartAsync(kind);
        Assert.SkipWhen(started is null, reason);
        await using var host = started!;
        await LiveAsync(host, 3);
        var maker = host.Services.GetRequiredService<StandingsMaker>();
        var made = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => Task.Run(() => maker.RunAsync(null, stop), stop)));

        await using var db = await host.Db.CreateDbContextAsync(stop);
        var newest = made.Max(one => one!.Number);
        Assert.Equal(4, made.Select(one => one!.Number).Distinct().Count());
        Assert.All(await db.Standings.AsNoTracking().ToArrayAsync(stop), standing => Assert.Equal(newest, standing.Snapshot));
        Assert.Equal(2, await db.Standings.CountAsync(stop));
    }

    [Fact]
    public async Task Snapshot_GivenUp_LeavesTheOneBefore()
    {
        var (started, _) = await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite);
        await using var host = started!;
        await LiveAsync(host, 2);
        var maker = host.Services.GetRequiredService<StandingsMaker>();
        var before = await maker.RunAsync(null, TestContext.Current.CancellationToken);
        using var stop = new CancellationTokenSource();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => maker.RunAsync(new Direct(words => _ = words.StartsWith("Testing", StringComparison.Ordinal) ? stop.CancelAsync() : Task.CompletedTask), stop.Token));

        Assert.Equal(before!.Number, (await (await host.ClientForAsync("tech")).ReadAsync("/api/v1/repeats"))["snapshot"]!["number"]!.GetValue<int>());
    }

    /// <summary>The same sink again and again, cleaned each time.</summary>
    private static async Task LiveAsync(DrainboardHost host, int times)
    {
        for (var time = 0; time < times; time++)
        {
            var defect = await Station.OpenAsync(host);
            await Station.MustAsync(host, "tech", defect, "rectification", Station.Work(host));
            await Station.MustAsync(host, "cert", defect, "rectification/release", new { outcome = "rectified", log = Station.Log(host.Clock.GetCurrentInstant(), "2"), signingCode = SmallFleet.SigningCode });
            host.Clock.AdvanceDays(2);
        }
    }

    private sealed class Direct(Action<string> told) : IProgress<string>
    {
        public void Report(string value) => told(value);
    }
}
