using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

/// <summary>Timed pours over HTTP on both databases.</summary>
public sealed class PoursTests(Hosts hosts) : IClassFixture<Hosts>
{
    private static readonly string[] Confirmed = ["ground", "area", "discharge"];

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Pour_AgainstItsReference_IsKeptOnceComparedAndTold(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var defect = await Station.OpenAsync(host, "QQ-TSA", "K-2");
        Assert.Equal(201, (await PourAsync(host, "QQ-TSA", "K-2", 18, reference: true)).Status);
        var slow = Body(host, 40, "slowly", defect: defect);
        var first = await SendAsync(host, "QQ-TSA", "K-2", slow);
        var second = await SendAsync(host, "QQ-TSA", "K-2", slow);

        Assert.Equal((201, "Recorded: slow, 45 % of clean."), (first.Status, first.Body!["words"]!.GetValue<string>()));
        Assert.Equal(first.Body.ToJsonString(), second.Body!.ToJsonString());
        var tech = await host.ClientForAsync("tech");
        var view = await tech.ReadAsync("/api/v1/tails/QQ-TSA/fixtures/K-2/pours");
        Assert.Equal(2, view["pours"]!.AsArray().Count);
        Assert.Equal((0.45, "slow", "before"), (view["pours"]![0]!["openness"]!.GetValue<double>(), view["pours"]![0]!["result"]!.GetValue<string>(), view["pours"]![0]!["moment"]!.GetValue<string>()));
        Assert.Equal("tooFew", view["trend"]!["verdict"]!.GetValue<string>());
        Assert.Equal(3, view["questions"]!.AsArray().Count);
        var item = await Station.ReadAsync(host, defect);
        Assert.Contains(item["story"]!.AsArray(), line => line!["kind"]!.GetValue<string>() == "pour.timed");
        Assert.Equal("slow, 45 % of clean", item["pours"]![0]!["words"]!.GetValue<string>());
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Pour_OfAnotherMeasure_IsNotComparedWithTheReference(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        await PourAsync(host, "QQ-TSB", "K-1", 18, reference: true);

        var (_, body, _) = await SendAsync(host, "QQ-TSB", "K-1", new { id = NewId.At(host.Clock.GetCurrentInstant()), seconds = 9, run = "slowly", pouredAt = Station.Iso(host.Clock.GetCurrentInstant()), confirmed = Confirmed, millilitres = 2000 });

        Assert.Equal("Recorded: slow. The clean reference is of another measure (from the mark at 120 mm to 20 mm), so it goes by what was seen.", body!["words"]!.GetValue<string>());
    }

    [Theory]
    [InlineData("K-1", 0, "no-time")]
    [InlineData("T-A", 20, "not-a-gravity-drain")]
    [InlineData("BR-A", 20, "nothing-to-pour-into")]
    [InlineData("X-9", 20, "no-such-position")]
    public async Task Pour_ThatCannotBe_IsRefusedInWords(string position, int seconds, string code)
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);

        var (status, body, _) = await PourAsync(host, "QQ-TSB", position, seconds);

        Assert.Equal((422, code), (status, body!["refusal"]!.GetValue<string>()));
    }

    [Fact]
    public async Task Pour_Unconfirmed_OrForAnotherTailsDefect_IsRefused()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var elsewhere = await Station.OpenAsync(host, "QQ-TSA", "B-A");

        var unsafeOne = await SendAsync(host, "QQ-TSB", "K-1", new { id = NewId.At(host.Clock.GetCurrentInstant()), seconds = 20, run = "freely", pouredAt = Station.Iso(host.Clock.GetCurrentInstant()), confirmed = new[] { "ground" }, millilitres = 2000 });
        var stray = await SendAsync(host, "QQ-TSB", "K-1", Body(host, 20, "freely", defect: elsewhere));

        Assert.Equal((422, "not-confirmed"), (unsafeOne.Status, unsafeOne.Body!["refusal"]!.GetValue<string>()));
        Assert.Equal((422, "no-such-defect"), (stray.Status, stray.Body!["refusal"]!.GetValue<string>()));
    }

    [Fact]
    public async Task Plot_IsAPictureByItself()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        await PourAsync(host, "QQ-TSB", "B-A", 12, reference: true);
        await PourAsync(host, "QQ-TSB", "B-A", 30, run: "slowly");

        using var answer = await (await host.ClientForAsync("tech")).GetAsync(new Uri("/api/v1/tails/QQ-TSB/fixtures/B-A/pours.svg", UriKind.Relative), TestContext.Current.CancellationToken);
        var svg = System.Xml.Linq.XDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));

        Assert.Equal(("image/svg+xml", "svg", "http://www.w3.org/2000/svg"), (answer.Content.Headers.ContentType!.MediaType, svg.Root!.Name.LocalName, svg.Root.Name.NamespaceName));
        Assert.Single(svg.Root.Elements(), shape => shape.Name.LocalName == "circle");
        Assert.Contains("slow below 75 %", svg.Root.Value, StringComparison.Ordinal);
    }

    [Fact]
    public async Task LeakCheck_WithAWetPoint_CannotPass()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.WorkDoneAsync(host, leakCheck: null);
        var points = new[] { new { where = "Cap of the strainer", dry = false } };

        var (status, body, _) = await (await host.ClientForAsync("tech")).ActAsync(defect, "rectification/checks", new { leakCheck = new { passed = true, points } });
        Assert.Equal((422, "wet-point"), (status, body!["refusal"]!.GetValue<string>()));

        await Station.MustAsync(host, "tech", defect, "rectification/checks", new { leakCheck = new { passed = false, points } });
        Assert.False((await Station.ReadAsync(host, defect))["work"]![0]!["leakCheck"]!["points"]![0]!["dry"]!.GetValue<bool>());
    }

    /// <summary>A slow pour after the work and a passed ops check contradict each other, whoever sends it, until somebody says why both are true.</summary>
    [Fact]
    public async Task OpsCheck_PassedAfterASlowPour_NeedsWordsOfItsOwn()
    {
        await using var host = (await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite)).Host!;
        await PourAsync(host, "QQ-TSA", "K-1", 18, reference: true);
        var defect = await Station.WorkDoneAsync(host);
        host.Clock.AdvanceMinutes(2);
        Assert.Equal(201, (await SendAsync(host, "QQ-TSA", "K-1", Body(host, 40, "slowly", defect: defect))).Status);
        var tech = await host.ClientForAsync("tech");

        Assert.Equal("slow-pour", (await tech.ActAsync(defect, "rectification/checks", new { opsCheck = new { passed = true } })).Body!["refusal"]!.GetValue<string>());
        Assert.Equal("slow-pour", (await tech.ActAsync(defect, "rectification/checks", new { opsCheck = new { passed = true, words = "Timed pour 40.0 s, slow, 45 % of clean." } })).Body!["refusal"]!.GetValue<string>());
        Assert.Equal(200, (await tech.ActAsync(defect, "rectification/checks", new { opsCheck = new { passed = true, words = "The jug was cold milk." } })).Status);
    }

    private static object Body(DrainboardHost host, double seconds, string run, bool reference = false, string? defect = null) => new
    {
        id = NewId.At(host.Clock.GetCurrentInstant()), seconds, run, pouredAt = Station.Iso(host.Clock.GetCurrentInstant()), confirmed = Confirmed, fromMillimetres = 120, toMillimetres = 20, cleanReference = reference, defect,
    };

    private static Task<(int Status, JsonNode? Body, string? ETag)> PourAsync(DrainboardHost host, string tail, string position, double seconds, string run = "freely", bool reference = false) =>
        SendAsync(host, tail, position, Body(host, seconds, run, reference));

    private static async Task<(int Status, JsonNode? Body, string? ETag)> SendAsync(DrainboardHost host, string tail, string position, object body) =>
        await (await host.ClientForAsync("tech")).SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/fixtures/{position}/pours", body);
}
