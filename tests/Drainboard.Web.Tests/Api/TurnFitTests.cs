using System.Text.Json.Nodes;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

public sealed class TurnFitTests(Hosts hosts) : IClassFixture<Hosts>
{
    /// <summary>B. W. Taylor III, Introduction to Management Science, ch. 8, exactly convolved (reference set 13): 0.9386 and not the published normal 0.9633.</summary>
    [Fact]
    public async Task Compute_TaylorsCriticalPath_IsExact()
    {
        var client = await ClientAsync();
        var (status, answer, _) = await client.SendAsync(HttpMethod.Post, "/api/v1/compute/turn-fit", JsonNode.Parse("""{ "tasks": [ { "optimistic": 5, "likely": 8, "pessimistic": 17 }, { "optimistic": 3, "likely": 5, "pessimistic": 7 }, { "optimistic": 4, "likely": 6, "pessimistic": 8 }, { "optimistic": 3, "likely": 4, "pessimistic": 5 } ], "technicians": 1, "availableMinutes": 28 }"""));
        Assert.Equal(200, status);
        Assert.Equal(0.93856, answer!["probability"]!.GetValue<double>(), 0.0005);
        Assert.InRange(answer["p50Minutes"]!.GetValue<double>(), 23.5, 24.2);
        Assert.InRange(answer["p90Minutes"]!.GetValue<double>(), 27, 27.6);
    }

    [Theory]
    [InlineData("""{ "tasks": [], "availableMinutes": 28 }""", "tasks")]
    [InlineData("""{ "tasks": [ { "optimistic": 9, "likely": 8, "pessimistic": 17 } ], "availableMinutes": 28 }""", "tasks[0]")]
    [InlineData("""{ "tasks": [ { "median": 9, "p90": 8 } ], "availableMinutes": 28 }""", "tasks[0]")]
    [InlineData("""{ "tasks": [ { "median": 9, "p90": 12, "likely": 3 } ], "availableMinutes": 28 }""", "tasks[0]")]
    [InlineData("""{ "tasks": [ { "median": 9, "p90": 12 } ], "availableMinutes": -1 }""", "availableMinutes")]
    [InlineData("""{ "tasks": [ { "median": 9, "p90": 12 } ], "availableMinutes": 10, "technicians": 0 }""", "technicians")]
    public async Task Compute_BadInput_NamesTheMember(string body, string member)
    {
        var client = await ClientAsync();
        var (status, problem, _) = await client.SendAsync(HttpMethod.Post, "/api/v1/compute/turn-fit", JsonNode.Parse(body));
        Assert.Equal(400, status);
        Assert.NotNull(problem!["errors"]![member]);
    }

    /// <summary>An item on the ground: usable and whole minutes differ, what it may be adds up, and a later departure gives a better chance.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Fit_OfAnOpenItem_FollowsItsTurn(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var id = await Station.OpenAsync(host);
        var client = await host.ClientForAsync("lead");
        var before = await client.ReadAsync($"/api/v1/defects/{id}/fit");
        var (usable, total) = (before["fit"]!["usableMinutes"]!.GetValue<int>(), before["fit"]!["totalMinutes"]!.GetValue<int>());
        Assert.InRange(usable, 1, total - 8);
        Assert.Equal(1, before["jobs"]!.AsArray().Sum(job => job!["chance"]!.GetValue<double>()), 0.05);
        Assert.StartsWith("fits: ", before["fit"]!["words"]!.GetValue<string>(), StringComparison.Ordinal);

        var board = await client.ReadAsync("/api/v1/board/QQAA");
        Assert.Contains(board["cards"]!.AsArray().SelectMany(card => card!["items"]!.AsArray()), item => item!["id"]!.GetValue<string>() == id && item["fit"]!["words"]!.GetValue<string>() == before["fit"]!["words"]!.GetValue<string>());
    }

    /// <summary>Windows of a turn rule its fit; a backward one is refused in words and changes nothing.</summary>
    [Fact]
    public async Task Turn_WithAWindowThatEndsBeforeItStarts_IsRefused()
    {
        var client = await ClientAsync();
        var (status, problem, _) = await client.SendAsync(HttpMethod.Put, "/api/v1/turns/W-1", JsonNode.Parse("""{ "tail": "QQ-TSA", "station": "QQAA", "estimatedArrival": "2026-02-01T10:00:00Z", "estimatedDeparture": "2026-02-01T11:00:00Z", "windows": [ { "activity": "catering", "from": "2026-02-01T10:30:00Z", "to": "2026-02-01T10:20:00Z" } ] }"""));
        Assert.Equal((422, "window-backward"), (status, problem!["refusal"]!.GetValue<string>()));
        var (made, _, _) = await client.SendAsync(HttpMethod.Put, "/api/v1/turns/W-1", JsonNode.Parse("""{ "tail": "QQ-TSA", "station": "QQAA", "estimatedArrival": "2026-02-01T10:00:00Z", "estimatedDeparture": "2026-02-01T11:00:00Z", "windows": [ { "activity": "catering", "from": "2026-02-01T10:20:00Z", "to": "2026-02-01T10:30:00Z" } ] }"""));
        Assert.Equal(200, made);
    }

    [Fact]
    public async Task Terms_Changed_AreKeptAndRefusedWhereTheyCannotBe()
    {
        var client = await (await hosts.OnAsync(DatabaseKind.Sqlite)).ClientForAsync("admin");
        var (_, terms, tag) = await client.SendAsync(HttpMethod.Get, "/api/v1/fit-terms", null);
        Assert.Equal(10, terms!["deplaningMinutes"]!.GetValue<double>());
        Assert.NotNull(tag);
        var (status, problem, _) = await client.SendAsync(HttpMethod.Put, "/api/v1/fit-terms", JsonNode.Parse("""{ "deplaningMinutes": -1 }"""), tag);
        Assert.Equal(422, status);
        Assert.Equal("minutes", problem!["refusal"]!.GetValue<string>());
    }

    private async Task<HttpClient> ClientAsync() => await (await hosts.OnAsync(DatabaseKind.Sqlite)).ClientForAsync("lead");
}
