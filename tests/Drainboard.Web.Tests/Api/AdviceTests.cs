using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

/// <summary>Where to look first, from pours, write-ups, findings and what a person adds, on both databases.</summary>
public sealed class AdviceTests(Hosts hosts) : IClassFixture<Hosts>
{
    private static readonly string[] Confirmed = ["ground", "area", "discharge"];

    /// <summary>One slow sink: its strainer. The other one slow as well: what they share. Found there and put right: the pours of before no longer count.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Advice_FollowsThePours_AndForgetsThemOnceTheDrainIsOpened(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var defect = await Station.OpenAsync(host, "QQ-TSA", "K-1");

        var one = await AdviceAsync(host, "QQ-TSA", "K-1");
        await PourAsync(host, "QQ-TSA", "K-2", 60, run: "slowly");
        var both = await AdviceAsync(host, "QQ-TSA", "K-1");

        Assert.Equal("S-1", one["drain"]!["segments"]![0]!["position"]!.GetValue<string>());
        Assert.Equal("K-2", one["drain"]!["pours"]![0]!["position"]!.GetValue<string>());
        Assert.Equal("BR-A", both["drain"]!["segments"]![0]!["position"]!.GetValue<string>());
        Assert.Equal(2, both["known"]!.AsArray().Count);
        Assert.Contains(both["explanation"]!.AsArray(), step => step!["text"]!.GetValue<string>().Contains("K-1 slow, K-2 slow", StringComparison.Ordinal));

        host.Clock.Advance(Duration.FromMinutes(5));
        await Station.MustAsync(host, "tech", defect, "rectification", new { id = NewId.At(host.Clock.GetCurrentInstant()), found = "grounds", foundAt = "BR-A", manualReference = "TEST-AMM", steps = new[] { "Branch cleared." }, completedAt = Station.Iso(host.Clock.GetCurrentInstant()), minutes = 20, opsCheck = new { passed = true }, leakCheck = new { passed = true } });
        await Station.MustAsync(host, "cert", defect, "rectification/release", new { outcome = "rectified", log = Station.Log(host.Clock.GetCurrentInstant(), "9"), signingCode = SmallFleet.SigningCode });
        var after = await AdviceAsync(host, "QQ-TSA", "K-1");
        var branch = after["drain"]!["segments"]!.AsArray().Single(segment => segment!["position"]!.GetValue<string>() == "BR-A")!;
        Assert.Empty(after["known"]!.AsArray());
        Assert.Equal((1, 1, 0), (branch["foundHere"]!.GetValue<int>(), branch["writeUps"]!.GetValue<int>(), branch["daysSinceOpened"]!.GetValue<int>()));
        Assert.Equal("BR-A", after["drain"]!["lastFix"]!["position"]!.GetValue<string>());
    }

    [Fact]
    public async Task Advice_ReportedAloftAndPouredFineOnTheGround_PointsToTheMastByItself()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        await PourAsync(host, "QQ-TSB", "B-A", 12);
        host.Clock.Advance(Duration.FromMinutes(1));
        await Station.OpenAsync(host, "QQ-TSB", "B-A");
        Assert.False((await AdviceAsync(host, "QQ-TSB", "B-A"))["drain"]!["aloftOnly"]!.GetValue<bool>());

        host.Clock.Advance(Duration.FromMinutes(1));
        await PourAsync(host, "QQ-TSB", "B-A", 12);

        var advice = await AdviceAsync(host, "QQ-TSB", "B-A", "?outside=-4");

        Assert.True(advice["drain"]!["aloftOnly"]!.GetValue<bool>());
        Assert.Equal("DM-F", advice["drain"]!["segments"]![0]!["position"]!.GetValue<string>());
        Assert.False((await AdviceAsync(host, "QQ-TSB", "B-A", "?aloftOnly=false"))["drain"]!["aloftOnly"]!.GetValue<bool>());
    }

    /// <summary>A pour entered in error is kept and counts for nothing.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Advice_OnceAPourIsWithdrawn_NoLongerGoesByIt(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var tech = await host.ClientForAsync("tech");
        await PourAsync(host, "QQ-TSB", "K-2", 90, run: "slowly");
        Assert.Contains((await AdviceAsync(host, "QQ-TSB", "K-2"))["known"]!.AsArray(), one => one!["position"]!.GetValue<string>() == "K-2");
        var pour = (await tech.ReadAsync("/api/v1/tails/QQ-TSB/fixtures/K-2/pours"))["pours"]![0]!["id"]!.GetValue<string>();

        var (status, _, _) = await tech.SendAsync(HttpMethod.Post, $"/api/v1/pours/{pour}/withdrawal", new { reason = "wrong sink" });

        Assert.Equal(200, status);
        Assert.DoesNotContain((await AdviceAsync(host, "QQ-TSB", "K-2"))["known"]!.AsArray(), one => one!["position"]!.GetValue<string>() == "K-2");
        Assert.Contains("wrong sink", (await tech.ReadAsync("/api/v1/tails/QQ-TSB/fixtures/K-2/pours"))["pours"]![0]!["withdrawn"]!.GetValue<string>(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Advice_BackingUpIntoWhatDoesNotShareTheDrain_SaysSo()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);

        var advice = await AdviceAsync(host, "QQ-TSA", "K-1", "?backsUpInto=B-A");

        Assert.Null(advice["drain"]);
        Assert.Contains("does not share this drain", advice["whyNot"]!.GetValue<string>(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Advice_AtAToilet_WeighsItsTank()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);

        var advice = await AdviceAsync(host, "QQ-TSC", "T-A", "?fails=T-A&readsFull=true&emptied=true");

        Assert.Equal("falseFull", advice["vacuum"]!["suspects"]![0]!["fault"]!.GetValue<string>());
        Assert.Equal("does not flush", advice["known"]![0]!["words"]!.GetValue<string>());
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Terms_Changed_MoveTheAdvice_AndBadOnesAreRefused(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var admin = await host.ClientForAsync("admin");
        var (_, terms, tag) = await admin.SendAsync(HttpMethod.Get, "/api/v1/advice-terms", null);
        terms!["deferMinutes"] = 90;

        var (status, _, next) = await admin.SendAsync(HttpMethod.Put, "/api/v1/advice-terms", terms, tag);
        Assert.Equal(200, status);
        Assert.Equal(90, (await AdviceAsync(host, "QQ-TSA", "K-1"))["deferMinutes"]!.GetValue<double>());

        var stale = await admin.SendAsync(HttpMethod.Put, "/api/v1/advice-terms", terms, tag);
        terms["link"] = 1;
        var bad = await admin.SendAsync(HttpMethod.Put, "/api/v1/advice-terms", terms, next);
        Assert.Equal((412, 422, "chances"), (stale.Status, bad.Status, bad.Body!["refusal"]!.GetValue<string>()));
    }

    private static async Task<JsonNode> AdviceAsync(DrainboardHost host, string tail, string position, string query = "") =>
        await (await host.ClientForAsync("tech")).ReadAsync($"/api/v1/tails/{tail}/fixtures/{position}/advice{query}");

    private static async Task PourAsync(DrainboardHost host, string tail, string position, double seconds, string run = "freely")
    {
        var (status, body, _) = await (await host.ClientForAsync("tech")).SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/fixtures/{position}/pours", new { id = NewId.At(host.Clock.GetCurrentInstant()), seconds, run, pouredAt = Station.Iso(host.Clock.GetCurrentInstant()), confirmed = Confirmed, fromMillimetres = 120, toMillimetres = 20 });
        Assert.True(status == 201, $"{status} {body}");
    }
}
