using System.Text.Json.Nodes;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

/// <summary>The clock as an open computation, against the published vectors (sources beside each in the domain's tests) and with bad input.</summary>
public sealed class ComputeClockTests(Hosts hosts) : IClassFixture<Hosts>
{
    /// <summary>F1, F2, F4 to F9, E6, E7; local days in New York and Tokyo.</summary>
    [Theory]
    [InlineData("F1", """{"policy":"us","category":"B","recordedAt":"2026-01-26T10:00:00Z","asOf":"2026-01-27T12:00:00Z"}""", "2026-01-27T00:00:00Z", "2026-01-30T00:00:00Z")]
    [InlineData("F2", """{"policy":"us","category":"C","recordedAt":"2026-01-26T10:00:00Z","asOf":"2026-01-27T12:00:00Z"}""", "2026-01-27T00:00:00Z", "2026-02-06T00:00:00Z")]
    [InlineData("F5", """{"policy":"us","category":"D","recordedAt":"2028-01-26T10:00:00Z","asOf":"2028-01-27T12:00:00Z"}""", "2028-01-27T00:00:00Z", "2028-05-26T00:00:00Z")]
    [InlineData("F8 local", """{"policy":"us","category":"B","recordedAt":"2026-01-26T20:30:00-05:00","timeBase":"local","zone":"America/New_York","asOf":"2026-01-27T12:00:00Z"}""", "2026-01-27T05:00:00Z", "2026-01-30T05:00:00Z")]
    [InlineData("F8 UTC", """{"policy":"us","category":"B","recordedAt":"2026-01-26T20:30:00-05:00","timeBase":"utc","zone":"America/New_York","asOf":"2026-01-27T12:00:00Z"}""", "2026-01-28T00:00:00Z", "2026-01-31T00:00:00Z")]
    [InlineData("F9 local", """{"policy":"eu","category":"B","recordedAt":"2026-01-26T08:00:00+09:00","timeBase":"local","zone":"Asia/Tokyo","asOf":"2026-01-27T12:00:00Z"}""", "2026-01-26T15:00:00Z", "2026-01-29T15:00:00Z")]
    [InlineData("F10", """{"policy":"us","category":"B","recordedAt":"2026-03-06T22:30:00-05:00","timeBase":"local","zone":"America/New_York","asOf":"2026-03-07T12:00:00Z"}""", "2026-03-07T05:00:00Z", "2026-03-10T04:00:00Z")]
    [InlineData("E1", """{"policy":"eu","category":"B","recordedAt":"2026-01-26T10:00:00Z","extensions":[{"days":3}],"asOf":"2026-01-27T12:00:00Z"}""", "2026-01-27T00:00:00Z", "2026-02-02T00:00:00Z")]
    [InlineData("E7", """{"policy":"hk","category":"A","timeBase":"utc","recordedAt":"2026-05-10T13:00:00Z","limits":[{"unit":"calendarDays","count":2}],"asOf":"2026-05-11T12:00:00Z"}""", "2026-05-11T00:01:00Z", "2026-05-13T00:00:00Z")]
    [InlineData("own", """{"policy":{"intervalDays":{"B":3},"timeBase":"America/New_York","dayOfDiscovery":"recordedAt","calendarStart":"00:00","countedUnitStart":"Deferral","expiryTest":"Departure","extendable":{"A":false,"B":true,"C":true,"D":false},"maxExtensions":1,"maxExtension":"interval","notifyWithin":"PT24H","approvalBefore":{"A":false}},"category":"B","recordedAt":"2026-01-26T20:30:00-05:00","asOf":"2026-01-27T12:00:00Z"}""", "2026-01-27T05:00:00Z", "2026-01-30T05:00:00Z")]
    public async Task Clock_OfAVector_IsAsPublished(string vector, string body, string starts, string due)
    {
        var answer = await AskAsync(body);

        Assert.True((starts, due) == (answer["startsAt"]!.GetValue<string>(), answer["dueAt"]!.GetValue<string>()), $"{vector}: {answer["startsAt"]} to {answer["dueAt"]}");
        Assert.False(answer["openEnded"]!.GetValue<bool>());
        Assert.NotEmpty(answer["explanation"]!.AsArray());
    }

    /// <summary>F12 with a flight in the air at the end: named by its place in the question, whatever the order given.</summary>
    [Fact]
    public async Task Clock_InFlightDays_CountsAndNamesTheFlightsThatMayNotDepart()
    {
        var answer = await AskAsync(
            """
            {"policy":"us","category":"A","recordedAt":"2026-01-26T08:00:00Z","asOf":"2026-01-27T18:00:00Z","limits":[{"unit":"flightDays","count":2},{"unit":"flightHours","count":100}],
             "sectors":[{"offBlock":"2026-01-30T09:00:00Z","onBlock":"2026-01-30T12:00:00Z"},{"offBlock":"2026-01-27T09:00:00Z","onBlock":"2026-01-27T12:00:00Z","flightHours":2.5},
                        {"offBlock":"2026-01-29T22:30:00Z","onBlock":"2026-01-30T01:00:00Z"},{"offBlock":"2026-01-29T09:00:00Z","onBlock":"2026-01-29T12:00:00Z"}]}
            """);

        Assert.Equal("2026-01-30T00:00:00Z", answer["dueAt"]!.GetValue<string>());
        Assert.Equal("flightDays", answer["binding"]!.GetValue<string>());
        Assert.Equal([0, 2], answer["sectorsBlocked"]!.AsArray().Select(index => index!.GetValue<int>()));
        Assert.Equal(1, answer["counts"]![0]!["used"]!.GetValue<decimal>());
        Assert.Equal(2.5m, answer["counts"]![1]!["used"]!.GetValue<decimal>());
        Assert.Equal(54, answer["remaining"]!["elapsedHours"]!.GetValue<double>());
    }

    [Fact]
    public async Task Clock_ThatNoFlightUsesUp_IsOpenEnded()
    {
        var answer = await AskAsync("""{"policy":"us","category":"A","recordedAt":"2026-01-26T08:00:00Z","asOf":"2026-01-26T18:00:00Z","limits":[{"unit":"flightCycles","count":3}],"sectors":[]}""");

        Assert.True(answer["openEnded"]!.GetValue<bool>());
        Assert.Null(answer["dueAt"]);
        Assert.Equal("running", answer["state"]!.GetValue<string>());
    }

    [Fact]
    public async Task Clock_UnderAPolicyWithAFieldYetToSet_NamesItAndGivesNoEnd()
    {
        var answer = await AskAsync("""{"policy":"hk","category":"B","recordedAt":"2026-05-10T13:00:00Z","asOf":"2026-05-11T12:00:00Z"}""");

        Assert.Equal(["timeBase"], answer["unset"]!.AsArray().Select(name => name!.GetValue<string>()));
        Assert.Null(answer["dueAt"]);
        Assert.False(answer["openEnded"]!.GetValue<bool>());
    }

    [Theory]
    [InlineData("E2", """{"policy":"eu","category":"B","recordedAt":"2026-01-26T10:00:00Z","extensions":[{"days":4}],"asOf":"2026-01-27T12:00:00Z"}""", "extension-too-long")]
    [InlineData("E5 A", """{"policy":"eu","category":"A","intervalDays":2,"recordedAt":"2026-01-26T10:00:00Z","extensions":[{"days":1}],"asOf":"2026-01-27T12:00:00Z"}""", "not-extendable")]
    [InlineData("E5 twice", """{"policy":"eu","category":"C","recordedAt":"2026-01-26T10:00:00Z","extensions":[{"days":3},{"days":3}],"asOf":"2026-01-27T12:00:00Z"}""", "extended-before")]
    [InlineData("E6", """{"policy":"eu","category":"B","intervalDays":2,"recordedAt":"2026-01-26T10:00:00Z","extensions":[{"days":3}],"asOf":"2026-01-27T12:00:00Z"}""", "extension-too-long")]
    [InlineData("E10", """{"policy":"ca","category":"A","intervalDays":3,"recordedAt":"2026-01-26T10:00:00Z","extensions":[{"days":2}],"asOf":"2026-01-27T12:00:00Z"}""", "approval-before")]
    [InlineData("late", """{"policy":"eu","category":"B","recordedAt":"2026-01-26T10:00:00Z","extensions":[{"days":3,"requestedAt":"2026-01-30T00:00:00Z"}],"asOf":"2026-02-01T12:00:00Z"}""", "lapsed")]
    public async Task Clock_WithALawfulRefusal_Is422WithItsCode(string vector, string body, string refusal)
    {
        var (status, answer) = await SendAsync(body);

        Assert.True((422, refusal) == (status, answer!["refusal"]!.GetValue<string>()), $"{vector}: {status} {answer}");
    }

    [Theory]
    [InlineData("recordedAt", """{"policy":"us","category":"B","recordedAt":"2026-01-28T10:00:00Z","asOf":"2026-01-27T12:00:00Z"}""")]
    [InlineData("recordedAt", """{"policy":"us","category":"B","recordedAt":"2026-01-26T10:00:00","asOf":"2026-01-27T12:00:00Z"}""")]
    [InlineData("policy", """{"policy":"xx","category":"B","recordedAt":"2026-01-26T10:00:00Z","asOf":"2026-01-27T12:00:00Z"}""")]
    [InlineData("policy", """{"policy":{"maxExtensions":1,"extendable":[]},"category":"B","recordedAt":"2026-01-26T10:00:00Z","asOf":"2026-01-27T12:00:00Z"}""")]
    [InlineData("policy.surprise", """{"policy":{"surprise":1},"category":"B","recordedAt":"2026-01-26T10:00:00Z","asOf":"2026-01-27T12:00:00Z"}""")]
    [InlineData("zone", """{"policy":"us","category":"B","timeBase":"local","recordedAt":"2026-01-26T10:00:00Z","asOf":"2026-01-27T12:00:00Z"}""")]
    [InlineData("limits", """{"policy":"us","category":"A","recordedAt":"2026-01-26T10:00:00Z","asOf":"2026-01-27T12:00:00Z"}""")]
    [InlineData("limits", """{"policy":"us","category":"B","limits":[{"unit":"flightDays","count":2}],"recordedAt":"2026-01-26T10:00:00Z","asOf":"2026-01-27T12:00:00Z"}""")]
    [InlineData("sectors[1].offBlock", """{"policy":"us","category":"B","recordedAt":"2026-01-26T10:00:00Z","asOf":"2026-01-27T12:00:00Z","sectors":[{"offBlock":"2026-01-27T09:00:00Z","onBlock":"2026-01-27T12:00:00Z"},{"offBlock":"2026-01-27T11:00:00Z","onBlock":"2026-01-27T13:00:00Z"}]}""")]
    [InlineData("sectors[0].onBlock", """{"policy":"us","category":"B","recordedAt":"2026-01-26T10:00:00Z","asOf":"2026-01-27T12:00:00Z","sectors":[{"offBlock":"2026-01-27T12:00:00Z","onBlock":"2026-01-27T12:00:00Z"}]}""")]
    public async Task Clock_WithBadInput_Is400WithTheMembersPath(string path, string body)
    {
        var (status, answer) = await SendAsync(body);

        Assert.Equal(400, status);
        Assert.True(answer!["errors"]!.AsObject().ContainsKey(path), $"No error at {path}: {answer}");
    }

    private async Task<JsonNode> AskAsync(string body)
    {
        var (status, answer) = await SendAsync(body);
        Assert.True(status == 200, $"{status} {answer}");
        return answer!;
    }

    private async Task<(int Status, JsonNode? Body)> SendAsync(string body)
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var (status, answer, _) = await (await host.ClientForAsync("engineer")).SendAsync(HttpMethod.Post, "/api/v1/compute/deferral-clock", JsonNode.Parse(body));
        return (status, answer);
    }
}
