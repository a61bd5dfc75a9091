using System.Text.Json.Nodes;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using NodaTime;

namespace Drainboard.Web.Tests.Api;

/// <summary>A tail's drinking water from the programme to access given back, over HTTP on both databases.</summary>
public sealed class DrinkingWaterTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task EColi_RestrictsEverywhere_UntilTheRuleIsMet(DatabaseKind kind)
    {
        // A program of its own: here the clock is of the day on which the tail stands at the station.
        await using var own = new Hosts();
        var (host, tail) = (await own.OnAsync(kind), "QQ-TSA");
        var (tech, control, start) = (await host.ClientForAsync("tech"), await host.ClientForAsync("control"), host.Clock.GetCurrentInstant());
        await ProgrammeAsync(host, tail);
        var set = await CollectAsync(host, tail, "routine", ["B-A", "K-1"]);
        Assert.Equal(422, (await CollectAnswerAsync(host, tail, "routine", ["K-1", "T-A"])).Status);
        Assert.Equal(422, (await CollectAnswerAsync(host, tail, "routine", ["K-9", "B-A"])).Status);

        host.Clock.AdvanceHours(3);
        Assert.Equal("E. coli-positive sample: its actions run now.", (await TellAsync(host, tail, set, start + Duration.FromHours(2), (1, true, true), (2, false, false)))["words"]!.GetValue<string>());
        var water = await tech.ReadAsync($"/api/v1/tails/{tail}/water");
        Assert.Contains("not served", water["restriction"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.True((await tech.ReadAsync($"/api/v1/cabin/{tail}"))["waterNotServed"]!.GetValue<bool>());
        Assert.Equal("E. coli-positive sample", (await tech.ReadAsync("/api/v1/board/QQAA"))["cards"]!.AsArray().Single(card => card!["tail"]!.GetValue<string>() == tail)!["waterNotServed"]!.GetValue<string>());
        Assert.Contains((await tech.ReadAsync($"/api/v1/tails/{tail}/departure-sheet"))["notes"]!.AsArray(), note => note!["words"]!.GetValue<string>().StartsWith("Drinking water: E. coli", StringComparison.Ordinal));
        Assert.Equal((tail, true), (await tech.ReadAsync("/api/v1/water"))["lines"]![0] is { } line ? (line["tail"]!.GetValue<string>(), line["restricted"]!.GetValue<bool>()) : default);

        var running = water["cases"]![0]!;
        var path = $"/api/v1/tails/{tail}/water/cases/{running["id"]}";
        var (status, refused, _) = await control.SendAsync(HttpMethod.Post, $"{path}/lifting", new { signingCode = SmallFleet.SigningCode }, $"\"{running["version"]}\"");
        Assert.Equal((422, "not-disinfected"), (status, refused!["refusal"]!.GetValue<string>()));
        Assert.Equal(200, (await tech.SendAsync(HttpMethod.Post, $"{path}/step", new { what = "restrictAccess", at = Station.Iso(host.Clock.GetCurrentInstant()) }, $"\"{running["version"]}\"")).Status);
        Assert.Equal(412, (await tech.SendAsync(HttpMethod.Post, $"{path}/step", new { what = "report", at = Station.Iso(host.Clock.GetCurrentInstant()) }, $"\"{running["version"]}\"")).Status);
        Assert.Equal(422, (await CollectAnswerAsync(host, tail, "followUp", ["B-A", "K-1"], running["id"]!.GetValue<string>())).Status);
        await DeedAsync(host, tail, "disinfectedAndFlushed", "WO 17");
        host.Clock.AdvanceHours(1);
        var followUp = await CollectAsync(host, tail, "followUp", ["B-A", "K-2"], running["id"]!.GetValue<string>());
        Assert.Equal("follow-up-pending", (await LiftAsync(host, tail)).Body!["refusal"]!.GetValue<string>());
        host.Clock.AdvanceHours(20);
        await TellAsync(host, tail, followUp, host.Clock.GetCurrentInstant() - Duration.FromHours(18), (1, false, false), (2, false, false));
        Assert.Equal("signing-code-wrong", (await LiftAsync(host, tail, "wrong-code-1")).Body!["refusal"]!.GetValue<string>());
        Assert.Equal(200, (await LiftAsync(host, tail)).Status);
        Assert.Null((await tech.ReadAsync($"/api/v1/tails/{tail}/water"))["restriction"]);
        Assert.False((await tech.ReadAsync($"/api/v1/cabin/{tail}"))["waterNotServed"]!.GetValue<bool>());

        // Access stands on this disinfection: it is not taken out from under it.
        var done = (await control.ReadAsync($"/api/v1/tails/{tail}/water"))["deeds"]![0]!["id"];
        Assert.Equal("lifted-on-it", (await control.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/deeds/{done}/void", new { reason = "Another aircraft" })).Body!["refusal"]!.GetValue<string>());

        // The set that lifted it is lost after all: nothing is served on it any longer.
        var lost = (await control.ReadAsync($"/api/v1/tails/{tail}/water"))["sets"]!.AsArray().Single(one => one!["id"]!.GetValue<string>() == followUp)!;
        Assert.Equal(200, (await control.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/samples/{followUp}/void", new { reason = "Wrong aircraft" }, $"\"{lost["version"]}\"")).Status);
        Assert.Equal("missedAfterEColi", (await control.ReadAsync($"/api/v1/tails/{tail}/water"))["cases"]![0]!["kind"]!.GetValue<string>());
        Assert.NotNull((await control.ReadAsync($"/api/v1/tails/{tail}/water"))["restriction"]);

        using var paper = await control.GetAsync(new Uri($"{path}/report.txt", UriKind.Relative), TestContext.Current.CancellationToken);
        var text = await paper.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.Contains("By 5 Feb 2026 at the latest", text, StringComparison.Ordinal);
        Assert.Contains("- Laboratory: [MISSING: fill in]", text, StringComparison.Ordinal);
        Assert.Contains("Disinfect and flush: ", text, StringComparison.Ordinal);
        using var pdf = await control.GetAsync(new Uri($"{path}/report.pdf", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal("%PDF"u8.ToArray(), (await pdf.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken))[..4]);
        Assert.Equal(404, (await control.SendAsync(HttpMethod.Get, $"{path}/report.doc", null)).Status);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Coliform_ByRepeats_EndsByItself_OrBecomesWorse(DatabaseKind kind)
    {
        var (host, tail) = (await hosts.OnAsync(kind), "QQ-TSB");
        var control = await host.ClientForAsync("control");
        await ProgrammeAsync(host, tail);
        foreach (var coliform in new[] { false, true })
        {
            var set = await CollectAsync(host, tail, "routine", ["B-A", "K-1"]);
            host.Clock.AdvanceHours(20);
            await TellAsync(host, tail, set, host.Clock.GetCurrentInstant() - Duration.FromHours(15), (1, false, false), (2, true, false));
            var one = (await control.ReadAsync($"/api/v1/tails/{tail}/water"))["cases"]![0]!;
            Assert.Null((await control.ReadAsync($"/api/v1/tails/{tail}/water"))["restriction"]);
            Assert.Equal(200, (await control.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/cases/{one["id"]}/way", new { way = "iii" }, $"\"{one["version"]}\"")).Status);
            one = (await control.ReadAsync($"/api/v1/tails/{tail}/water"))["cases"]![0]!;
            Assert.Equal("K-1", one["taps"]![0]!.GetValue<string>());

            // Repeats that are lost count as not collected: they are asked for again.
            var lost = await CollectAsync(host, tail, "repeat", [.. one["taps"]!.AsArray().Select(tap => tap!.GetValue<string>())], one["id"]!.GetValue<string>());
            Assert.Null((await control.ReadAsync($"/api/v1/tails/{tail}/water"))["cases"]![0]!["samples"]);
            Assert.Equal(200, (await control.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/samples/{lost}/void", new { reason = "Bottle broken" }, "\"0\"")).Status);
            one = (await control.ReadAsync($"/api/v1/tails/{tail}/water"))["cases"]![0]!;
            Assert.False(one["missed"]!.GetValue<bool>());
            host.Clock.AdvanceHours(25);
            Assert.True((await control.ReadAsync($"/api/v1/tails/{tail}/water"))["cases"]![0]!["missed"]!.GetValue<bool>());
            Assert.NotNull((await control.ReadAsync($"/api/v1/tails/{tail}/water"))["restriction"]);
            host.Clock.AdvanceHours(-25);

            var repeats = await CollectAsync(host, tail, "repeat", [.. one["taps"]!.AsArray().Select(tap => tap!.GetValue<string>())], one["id"]!.GetValue<string>());
            host.Clock.AdvanceHours(20);
            var told = await TellAsync(host, tail, repeats, host.Clock.GetCurrentInstant() - Duration.FromHours(15), (1, false, false), (2, coliform, false), (3, false, false));
            Assert.Equal(coliform ? "Coliform-positive follow-up sample: its actions run now." : "All repeats are negative: the case has ended.", told["words"]!.GetValue<string>());
        }

        var view = await control.ReadAsync($"/api/v1/tails/{tail}/water");
        Assert.NotNull(view["restriction"]);
        Assert.Equal(1, view["cases"]!.AsArray().Count(one => one!["endedAt"] is null));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Programme_AndItsDues_AndItsRefusals(DatabaseKind kind)
    {
        var (host, tail) = (await hosts.OnAsync(kind), "QQ-TSC");
        var (engineer, tech) = (await host.ClientForAsync("engineer"), await host.ClientForAsync("tech"));
        var now = host.Clock.GetCurrentInstant();
        Assert.Equal("no-programme", (await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/deeds", new { id = Domain.NewId.At(now), kind = "selfInspected", at = Station.Iso(now) })).Body!["refusal"]!.GetValue<string>());
        Assert.Equal("water-samples", (await engineer.SendAsync(HttpMethod.Put, "/api/v1/water-programmes/too-seldom", new { id = Domain.NewId.At(now), terms = Terms(sampleEveryDays: 366) }, ifNoneMatch: true)).Body!["refusal"]!.GetValue<string>());
        await ProgrammeAsync(host, tail);
        Assert.All((await tech.ReadAsync($"/api/v1/tails/{tail}/water"))["dues"]!.AsArray(), due => Assert.True(due!["isOver"]!.GetValue<bool>()));
        await DeedAsync(host, tail, "disinfectedAndFlushed", "WO 1");
        Assert.Equal("too-soon", (await CollectAnswerAsync(host, tail, "routine", ["B-A", "K-1"])).Body!["refusal"]!.GetValue<string>());
        var due = (await tech.ReadAsync($"/api/v1/tails/{tail}/water"))["dues"]!.AsArray().Single(one => one!["key"]!.GetValue<string>() == "disinfection")!;
        Assert.Equal((false, Station.Iso(host.Clock.GetCurrentInstant() + Duration.FromDays(91))), (due["isOver"]!.GetValue<bool>(), due["dueAt"]!.GetValue<string>()));
        await DeedAsync(host, tail, "deficiencyFound", "Fill cap chain broken");
        var open = (await tech.ReadAsync($"/api/v1/tails/{tail}/water"))["dues"]!.AsArray().Single(one => one!["what"]!.GetValue<string>() == "Put right: Fill cap chain broken")!["key"]!.GetValue<string>()["deficiency ".Length..];
        var right = new { id = Domain.NewId.At(now), kind = "deficiencyCorrected", at = Station.Iso(host.Clock.GetCurrentInstant()), words = "WO 2", corrects = open };
        Assert.Equal(201, (await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/deeds", right)).Status);
        Assert.Equal(201, (await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/deeds", right)).Status);
        Assert.Equal("corrected-already", (await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/deeds", new { id = Domain.NewId.At(now), right.kind, right.at, right.words, right.corrects })).Body!["refusal"]!.GetValue<string>());
        var control = await host.ClientForAsync("control");
        var wrong = (await tech.ReadAsync($"/api/v1/tails/{tail}/water"))["deeds"]!.AsArray().First(one => one!["kind"]!.GetValue<string>() == "disinfectedAndFlushed")!["id"];
        Assert.Equal(422, (await control.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/deeds/{wrong}/void", new { reason = "" })).Status);
        Assert.Equal(200, (await control.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/deeds/{wrong}/void", new { reason = "Another aircraft" })).Status);
        Assert.Null((await tech.ReadAsync($"/api/v1/tails/{tail}/water"))["dues"]!.AsArray().Single(one => one!["key"]!.GetValue<string>() == "disinfection")!["lastAt"]);
        Assert.Equal(403, (await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/cases", new { id = Domain.NewId.At(now), kind = "unsafeSource", toldAt = Station.Iso(now), words = "x" })).Status);
    }

    private static object Terms(int sampleEveryDays = 365) => new { title = "Quarterly", underSubpartX = true, disinfectEveryDays = 91, sampleEveryDays, inspectEveryMonths = 60, canShutOff = false, manual = "TEST-WATER 1", source = "Test operator", items = new[] { new { key = "uv-lamp", name = "UV lamp", everyDays = 365, everyHours = 3000 } } };

    private static async Task ProgrammeAsync(DrainboardHost host, string tail)
    {
        var engineer = await host.ClientForAsync("engineer");
        var now = host.Clock.GetCurrentInstant();
        Assert.Contains((await engineer.SendAsync(HttpMethod.Put, "/api/v1/water-programmes/quarterly", new { id = Domain.NewId.At(now), terms = Terms() }, ifNoneMatch: true)).Status, new[] { 200, 422 });
        Assert.Equal(200, (await engineer.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/programme", new { id = Domain.NewId.At(now), programme = "quarterly" })).Status);
    }

    private static async Task DeedAsync(DrainboardHost host, string tail, string kind, string words)
    {
        var now = host.Clock.GetCurrentInstant();
        var (status, body, _) = await (await host.ClientForAsync("tech")).SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/deeds", new { id = Domain.NewId.At(now), kind, at = Station.Iso(now), words });
        Assert.True(status == 201, $"{status} {body}");
    }

    private static async Task<string> CollectAsync(DrainboardHost host, string tail, string purpose, string[] taps, string? of = null)
    {
        var (status, body, _) = await CollectAnswerAsync(host, tail, purpose, taps, of);
        Assert.True(status == 201, $"{status} {body}");
        return body!["id"]!.GetValue<string>();
    }

    private static async Task<(int Status, JsonNode? Body, string? ETag)> CollectAnswerAsync(DrainboardHost host, string tail, string purpose, string[] taps, string? of = null)
    {
        var now = host.Clock.GetCurrentInstant();
        return await (await host.ClientForAsync("tech")).SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/samples", new { id = Domain.NewId.At(now), purpose, taps, collectedAt = Station.Iso(now), @case = of });
    }

    private static async Task<JsonNode> TellAsync(DrainboardHost host, string tail, string set, Instant started, params (int Sample, bool Coliform, bool EColi)[] results)
    {
        var control = await host.ClientForAsync("control");
        var version = (await control.ReadAsync($"/api/v1/tails/{tail}/water"))["sets"]!.AsArray().Single(one => one!["id"]!.GetValue<string>() == set)!["version"];
        var (status, body, _) = await control.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/samples/{set}/results", new { toldAt = Station.Iso(host.Clock.GetCurrentInstant()), results = results.Select(one => new { sample = one.Sample, analysisStartedAt = Station.Iso(started), coliform = one.Coliform, eColi = one.EColi }) }, $"\"{version}\"");
        Assert.True(status == 200, $"{status} {body}");
        return body!;
    }

    private static async Task<(int Status, JsonNode? Body, string? ETag)> LiftAsync(DrainboardHost host, string tail, string code = SmallFleet.SigningCode)
    {
        var control = await host.ClientForAsync("control");
        var one = (await control.ReadAsync($"/api/v1/tails/{tail}/water"))["cases"]![0]!;
        return await control.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/water/cases/{one["id"]}/lifting", new { signingCode = code }, $"\"{one["version"]}\"");
    }
}
