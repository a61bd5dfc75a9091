using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

public sealed class ShiftPlansTests
{
    /// <summary>Reference set 14: two technicians, twelve windows, optimum 70, K06 left; the same answer twice.</summary>
    [Fact]
    public async Task Compute_TheReferenceInstance_ProvesSeventy()
    {
        await using var host = await HostAsync(DatabaseKind.Sqlite);
        var client = await host.ClientForAsync("lead");
        var body = JsonNode.Parse("""
            { "technicians": [ { "id": "T1", "from": 0, "to": 215, "skills": ["mech"] }, { "id": "T2", "from": 20, "to": 240, "skills": ["mech", "cabin"] } ],
              "tasks": [ { "id": "K01", "minutes": 30, "weight": 8, "skill": "mech", "windowFrom": 0, "windowTo": 45 }, { "id": "K02", "minutes": 45, "weight": 9, "skill": "cabin", "windowFrom": 0, "windowTo": 70 }, { "id": "K03", "minutes": 25, "weight": 5, "skill": "mech", "windowFrom": 20, "windowTo": 80 },
                         { "id": "K04", "minutes": 40, "weight": 7, "skill": "cabin", "windowFrom": 50, "windowTo": 110 }, { "id": "K05", "minutes": 35, "weight": 6, "skill": "mech", "windowFrom": 60, "windowTo": 120 }, { "id": "K06", "minutes": 50, "weight": 9, "skill": "cabin", "windowFrom": 60, "windowTo": 130 },
                         { "id": "K07", "minutes": 20, "weight": 4, "skill": "mech", "windowFrom": 100, "windowTo": 140 }, { "id": "K08", "minutes": 60, "weight": 10, "skill": "mech", "windowFrom": 110, "windowTo": 200 }, { "id": "K09", "minutes": 30, "weight": 5, "skill": "cabin", "windowFrom": 130, "windowTo": 170 },
                         { "id": "K10", "minutes": 45, "weight": 7, "skill": "cabin", "windowFrom": 150, "windowTo": 210 }, { "id": "K11", "minutes": 40, "weight": 6, "skill": "mech", "windowFrom": 150, "windowTo": 215 }, { "id": "K12", "minutes": 25, "weight": 3, "skill": "cabin", "windowFrom": 190, "windowTo": 230 } ],
              "walkMinutes": 0, "secondsAllowed": 10 }
            """);
        var (status, first, _) = await client.SendAsync(HttpMethod.Post, "/api/v1/compute/shift-plan", body);
        Assert.Equal(200, status);
        Assert.Equal((70, 70, true, "K06"), (first!["objective"]!.GetValue<int>(), first["bound"]!.GetValue<int>(), first["proven"]!.GetValue<bool>(), Assert.Single(first["left"]!.AsArray())!.GetValue<string>()));
        var (_, second, _) = await client.SendAsync(HttpMethod.Post, "/api/v1/compute/shift-plan", body);
        Assert.Equal(first.ToJsonString(), second!.ToJsonString());
    }

    [Theory]
    [InlineData("""{ "technicians": [], "tasks": [ { "id": "A", "minutes": 10, "weight": 1, "skill": "x", "windowFrom": 50, "windowTo": 40 } ] }""", "tasks[0].windowTo")]
    [InlineData("""{ "technicians": [ { "id": "T", "from": 10, "to": 5, "skills": [] } ], "tasks": [] }""", "technicians[0].to")]
    [InlineData("""{ "technicians": [], "tasks": [ { "id": "A", "minutes": 0, "weight": 1, "skill": "x", "windowFrom": 0, "windowTo": 40 } ] }""", "tasks[0].minutes")]
    [InlineData("""{ "technicians": [], "tasks": [], "secondsAllowed": 0 }""", "secondsAllowed")]
    public async Task Compute_BadInput_NamesTheMember(string body, string member)
    {
        await using var host = await HostAsync(DatabaseKind.Sqlite);
        var (status, problem, _) = await (await host.ClientForAsync("lead")).SendAsync(HttpMethod.Post, "/api/v1/compute/shift-plan", JsonNode.Parse(body));
        Assert.Equal(400, status);
        Assert.NotNull(problem!["errors"]![member]);
    }

    /// <summary>A lead plans what is open, gives it out, and the technician has it on their list with how far it has come.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Plan_GivenOut_IsTheTechniciansList(DatabaseKind kind)
    {
        await using var host = await HostAsync(kind);
        var defect = await Station.OpenAsync(host);
        var lead = await host.ClientForAsync("lead");
        var (draft, wish) = await WishAsync(lead);
        Assert.Contains(draft["items"]!.AsArray(), item => item!["defect"]!.GetValue<string>() == defect && item["whyNot"] is null);

        var (status, solved, _) = await lead.SendAsync(HttpMethod.Post, "/api/v1/stations/QQAA/shift/solutions", new { wish, seconds = 2 });
        Assert.Equal(200, status);
        var item = Assert.Single(solved!["content"]!["items"]!.AsArray());
        Assert.Equal((defect, true), (item!["defect"]!.GetValue<string>(), solved["proven"]!.GetValue<bool>()));
        Assert.InRange(Assert.Single(solved["content"]!["held"]!.AsArray())!["chance"]!.GetValue<double>(), 0.3, 1);

        // The lead looks at it for a while; the first item should have begun by now.
        host.Clock.Advance(Duration.FromMinutes(3));
        var assigned = new[] { new { defect, person = item["person"]!.GetValue<string>(), start = item["start"]!.GetValue<string>() } };
        var (given, body, tag) = await lead.SendAsync(HttpMethod.Put, "/api/v1/stations/QQAA/shift-plan", new { id = NewId.At(host.Clock.GetCurrentInstant()), wish, assigned }, ifNoneMatch: true);
        Assert.True(given == 200, body?.ToJsonString());
        Assert.NotNull(tag);

        // Two leads at once: the second is told, and nothing of the first is lost.
        var (late, _, _) = await lead.SendAsync(HttpMethod.Put, "/api/v1/stations/QQAA/shift-plan", new { id = NewId.At(host.Clock.GetCurrentInstant()), wish, assigned }, ifNoneMatch: true);
        Assert.Equal(412, late);
        Assert.Equal(200, (await lead.SendAsync(HttpMethod.Put, "/api/v1/stations/QQAA/shift-plan", new { id = NewId.At(host.Clock.GetCurrentInstant()), wish, assigned }, tag)).Status);

        var mine = (await (await host.ClientForAsync("tech")).ReadAsync("/api/v1/me/items")).AsArray();
        Assert.Equal(defect, Assert.Single(mine)!["defect"]!.GetValue<string>());
        await Station.MustAsync(host, "tech", defect, "taking", new { id = NewId.At(host.Clock.GetCurrentInstant()), have = true });
        Assert.NotNull((await lead.ReadAsync("/api/v1/stations/QQAA/shift-plan"))["progress"]![0]!["heldBy"]);

        // What somebody has in hand stays with them, whoever else is there.
        var (_, all) = await WishAsync(lead, "Tech Person", "Cert Person");
        var (_, anew, _) = await lead.SendAsync(HttpMethod.Post, "/api/v1/stations/QQAA/shift/solutions", new { wish = Change(all, "keepPlan", false), seconds = 2 });
        Assert.Equal(item["person"]!.GetValue<string>(), Assert.Single(anew!["content"]!["items"]!.AsArray())!["person"]!.GetValue<string>());

        // Another plan that begins later takes over from then: nobody has an item twice.
        host.Clock.Advance(Duration.FromMinutes(5));
        var (_, later) = await WishAsync(lead);
        var (_, again, _) = await lead.SendAsync(HttpMethod.Post, "/api/v1/stations/QQAA/shift/solutions", new { wish = later, seconds = 2 });
        var next = again!["content"]!["items"]!.AsArray().Select(one => new { defect = one!["defect"]!.GetValue<string>(), person = one["person"]!.GetValue<string>(), start = one["start"]!.GetValue<string>() }).ToArray();
        Assert.Equal(200, (await lead.SendAsync(HttpMethod.Put, "/api/v1/stations/QQAA/shift-plan", new { id = NewId.At(host.Clock.GetCurrentInstant()), wish = later, assigned = next })).Status);
        Assert.Single((await (await host.ClientForAsync("tech")).ReadAsync("/api/v1/me/items")).AsArray());
    }

    /// <summary>What does not hold is refused in words: a start outside the window, an item that is gone, nobody there, a shift that ends before it begins, another station's lead.</summary>
    [Fact]
    public async Task Plan_ThatDoesNotHold_IsRefusedInWords()
    {
        await using var host = await HostAsync(DatabaseKind.Sqlite);
        var defect = await Station.OpenAsync(host);
        var lead = await host.ClientForAsync("lead");
        var (draft, wish) = await WishAsync(lead);
        var person = draft["people"]![0]!["person"]!.GetValue<string>();
        var late = Station.Iso(host.Clock.GetCurrentInstant() + Duration.FromHours(7));
        Assert.Equal((422, "plan-does-not-hold"), await RefusalAsync(lead, "QQAA", wish, [new { defect, person, start = late }]));
        Assert.Equal((422, "item-gone"), await RefusalAsync(lead, "QQAA", wish, [new { defect = NewId.At(host.Clock.GetCurrentInstant()), person, start = late }]));
        Assert.Equal((422, "nobody"), await RefusalAsync(lead, "QQAA", Change(wish, "people", new JsonArray()), []));
        Assert.Equal((422, "shift-backward"), await RefusalAsync(lead, "QQAA", Change(wish, "to", wish["from"]!.DeepClone()), []));
        Assert.Equal(403, (await RefusalAsync(await host.ClientForAsync("lead.b"), "QQAA", wish, [])).Status);
        Assert.Equal(404, (await lead.SendAsync(HttpMethod.Get, "/api/v1/stations/QQAA/shift-plan", null)).Status);
    }

    private static JsonObject Change(JsonObject wish, string member, JsonNode value)
    {
        var other = wish.DeepClone().AsObject();
        other[member] = value;
        return other;
    }

    private static async Task<(int Status, string? Refusal)> RefusalAsync(HttpClient client, string station, JsonObject wish, object[] assigned)
    {
        var (status, problem, _) = await client.SendAsync(HttpMethod.Put, $"/api/v1/stations/{station}/shift-plan", new { id = NewId.At(Instant.FromUtc(2026, 1, 26, 10, 0)), wish, assigned });
        return (status, problem?["refusal"]?.GetValue<string>());
    }

    private static async Task<(JsonNode Draft, JsonObject Wish)> WishAsync(HttpClient lead, params string[] people)
    {
        var draft = await lead.ReadAsync("/api/v1/stations/QQAA/shift");
        return (draft, new JsonObject { ["from"] = draft["from"]!.DeepClone(), ["to"] = draft["to"]!.DeepClone(), ["people"] = new JsonArray([.. draft["people"]!.AsArray().Where(person => people.DefaultIfEmpty("Tech Person").Contains(person!["name"]!.GetValue<string>())).Select(person => new JsonObject { ["person"] = person!["person"]!.DeepClone() })]) });
    }

    private static async Task<DrainboardHost> HostAsync(DatabaseKind kind)
    {
        var (started, reason) = await DrainboardHost.TryStartAsync(kind);
        Assert.SkipWhen(started is null, reason);
        return started!;
    }
}
