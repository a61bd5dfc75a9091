using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

/// <summary>One item with three days left on QQ-TSA: at QQAA now until 11:30, and there again tomorrow.</summary>
public sealed class NetworkTests
{
    /// <summary>Control sees what can take it, plans it, gives it out; Clocks and the station's shift show it, and once it is done the plan says so.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Plan_GivenOut_ShowsOnClocksAndWeighsInTheShift(DatabaseKind kind)
    {
        await using var host = await HostAsync(kind);
        var defect = await Station.DeferredAsync(host, "38-02");
        var control = await host.ClientForAsync("control");
        var draft = await control.ReadAsync("/api/v1/network?days=7");
        var line = Assert.Single(draft["lines"]!.AsArray())!;
        Assert.Equal(("atStake", 2, "QQAA"), (line["standing"]!.GetValue<string>(), line["stays"]!.AsArray().Count, line["last"]!["station"]!.GetValue<string>()));
        var (status, solved, _) = await SolveAsync(control, new { days = 7 });
        Assert.Equal(200, status);
        var item = Assert.Single(solved!["content"]!["items"]!.AsArray())!;
        Assert.Equal((true, defect, 1), (solved["proven"]!.GetValue<bool>(), item["defect"]!.GetValue<string>(), item["spares"]!.GetValue<int>()));
        Assert.Equal(item["minutes"]!.GetValue<int>(), solved["load"]!.AsArray().Sum(load => load!["planned"]!.GetValue<int>()));

        var assigned = new[] { new { defect, turn = item["turn"]!.GetValue<string>() } };
        var (given, body, tag) = await GiveAsync(host, control, new { days = 7 }, assigned, ifNoneMatch: true);
        Assert.True(given == 200, body?.ToJsonString());
        Assert.Equal(412, (await GiveAsync(host, control, new { days = 7 }, assigned, ifNoneMatch: true)).Status);
        Assert.Equal(200, (await GiveAsync(host, control, new { days = 7 }, assigned, tag)).Status);

        Assert.Equal("QQAA", (await control.ReadAsync("/api/v1/clocks"))["lines"]![0]!["planned"]!["station"]!.GetValue<string>());
        Assert.Contains("control plans it here", (await control.ReadAsync("/api/v1/stations/QQAA/shift"))["items"]![0]!["reasons"]!.AsArray().Select(reason => reason!.GetValue<string>()));
        Assert.Equal("ahead", await ProgressAsync(control));
        host.Clock.Advance(Duration.FromHours(14));
        Assert.Equal("missed", await ProgressAsync(control));
    }

    /// <summary>A closed station, no minutes, and a swap with a tail that has nothing planned behind it: each time it is late, and without it it is not.</summary>
    [Fact]
    public async Task WhatIf_TakesStaysAway_AndSaysWhoIsNewlyLate()
    {
        await using var host = await HostAsync(DatabaseKind.Sqlite);
        await Station.DeferredAsync(host, "38-02");
        var control = await host.ClientForAsync("control");
        foreach (var wish in new object[] { new { days = 7, closed = new[] { new { station = "QQAA" } } }, new { days = 7, minutes = new[] { new { station = "QQAA", minutes = 10 } } } })
        {
            var (_, solved, _) = await SolveAsync(control, wish);
            Assert.Equal((0, 1), (solved!["without"]!["late"]!.GetValue<int>(), solved["without"]!["newly"]!.AsArray().Count));
            Assert.NotEmpty(Assert.Single(solved["content"]!["late"]!.AsArray())!["why"]!.GetValue<string>());
        }

        var swap = new { days = 7, swap = new { one = "QQ-TSA", other = "QQ-TSB" } };
        var (status, swapped, _) = await SolveAsync(control, swap);
        Assert.Equal(200, status);
        Assert.Contains("swap at QQAA", swapped!["swap"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Equal(0, swapped["content"]!["items"]!.AsArray().Sum(item => item!["spares"]!.GetValue<int>()));
        Assert.Equal((422, "swap-is-a-question"), Refusal(await GiveAsync(host, control, swap, [])));
    }

    [Fact]
    public async Task BadQuestions_AreRefusedInWords()
    {
        await using var host = await HostAsync(DatabaseKind.Sqlite);
        var defect = await Station.DeferredAsync(host, "38-02");
        var control = await host.ClientForAsync("control");
        foreach (var (wish, code) in new (object, string)[]
        {
            (new { days = 15 }, "days"),
            (new { days = 7, closed = new[] { new { station = "QQZZ" } } }, "unknown-station"),
            (new { days = 7, closed = new[] { new { station = "QQAA", from = "2026-01-27T00:00:00Z", to = "2026-01-26T00:00:00Z" } } }, "closed-backward"),
            (new { days = 7, minutes = new[] { new { station = "QQAA", minutes = -1 } } }, "minutes"),
            (new { days = 7, swap = new { one = "QQ-TSA", other = "QQ-XXX" } }, "unknown-tail"),
            (new { days = 7, swap = new { one = "QQ-TSA", other = "QQ-TSA" } }, "same-tail"),
            (new { days = 7, swap = new { one = "QQ-TSA", other = "QQ-TSC" } }, "never-meet"),
        })
        {
            Assert.Equal((422, code), Refusal(await SolveAsync(control, wish)));
        }

        Assert.Equal((422, "plan-does-not-hold"), Refusal(await GiveAsync(host, control, new { days = 7 }, [new { defect, turn = defect }])));
        Assert.Equal(403, (await SolveAsync(await host.ClientForAsync("lead"), new { days = 7 })).Status);
        Assert.Equal(404, (await control.SendAsync(HttpMethod.Get, "/api/v1/network/plan", null)).Status);
    }

    /// <summary>Every stay of the days with why it cannot take the item; one whose deferral has ended is not there.</summary>
    [Fact]
    public async Task Item_ShowsEveryStay()
    {
        await using var host = await HostAsync(DatabaseKind.Sqlite);
        var defect = await Station.DeferredAsync(host, "38-02");
        var client = await host.ClientForAsync("tech");
        Assert.Equal(2, (await client.ReadAsync($"/api/v1/network/items/{defect}"))["stays"]!.AsArray().Count);
        Assert.Equal(404, (await client.SendAsync(HttpMethod.Get, $"/api/v1/network/items/{NewId.At(host.Clock.GetCurrentInstant())}", null)).Status);
    }

    /// <summary>Late in the evening a night stay still counts, by the day that holds most of it; so does the plan that is looked at for a while.</summary>
    [Fact]
    public async Task NightStay_LateInTheEvening_IsTheMorningsWork()
    {
        await using var host = await HostAsync(DatabaseKind.Sqlite);
        var defect = await Station.DeferredAsync(host, "38-02");
        var control = await host.ClientForAsync("control");
        await control.SendAsync(HttpMethod.Put, "/api/v1/turns/T-A2", new { tail = "QQ-TSA", station = "QQAA", stand = "16", estimatedArrival = "2026-01-26T21:00:00Z", estimatedDeparture = "2026-01-27T07:00:00Z" });
        host.Clock.Advance(Duration.FromHours(13.6));
        var (_, solved, _) = await SolveAsync(control, new { days = 7 });
        var item = Assert.Single(solved!["content"]!["items"]!.AsArray())!;
        Assert.Equal("2026-01-27", Assert.Single(solved["load"]!.AsArray(), load => load!["planned"]!.GetValue<int>() > 0)!["day"]!.GetValue<string>());
        host.Clock.Advance(Duration.FromMinutes(15));
        Assert.Equal(200, (await GiveAsync(host, control, new { days = 7 }, [new { defect, turn = item["turn"]!.GetValue<string>() }])).Status);
    }

    /// <summary>An item whose tail's stays are not planned as far as it runs is not at stake; nothing given out empty, with more minutes than there are, or with members that are null.</summary>
    [Fact]
    public async Task Plan_OfWhatIsNotPlannedFar_OrNotReal_IsNotGivenOut()
    {
        await using var host = await HostAsync(DatabaseKind.Sqlite);
        var defect = await Station.DeferredAsync(host, "38-01");
        var control = await host.ClientForAsync("control");
        Assert.Equal("canWait", (await control.ReadAsync("/api/v1/network?days=7"))["lines"]![0]!["standing"]!.GetValue<string>());
        Assert.Equal((422, "empty-plan"), Refusal(await GiveAsync(host, control, new { days = 7 }, [])));
        Assert.Equal((422, "minutes-are-a-question"), Refusal(await GiveAsync(host, control, new { days = 14, minutes = new[] { new { station = "QQAA", minutes = 9000 } } }, [new { defect, turn = defect }])));
        Assert.InRange((await SolveAsync(control, JsonNode.Parse("{ \"days\": 7, \"closed\": [ null ] }")!)).Status, 400, 422);
        Assert.InRange((await GiveAsync(host, control, new { days = 7 }, [null!])).Status, 400, 422);
    }

    /// <summary>Its clock has run out: the one stay that counts is where it stands, and what is not done there is late.</summary>
    [Fact]
    public async Task Lapsed_IsTakenWhereItStands()
    {
        await using var host = await HostAsync(DatabaseKind.Sqlite);
        await Station.DeferredAsync(host, "38-02");
        host.Clock.Advance(Duration.FromDays(4));
        var control = await host.ClientForAsync("control");
        Assert.Equal("lapsed", (await control.ReadAsync("/api/v1/network"))["lines"]![0]!["standing"]!.GetValue<string>());
        var (_, solved, _) = await SolveAsync(control, new { days = 7 });
        Assert.Equal("It has lapsed, and no stay is planned for it at which this work can be done.", Assert.Single(solved!["content"]!["late"]!.AsArray())!["why"]!.GetValue<string>());
    }

    private static async Task<string> ProgressAsync(HttpClient client) => (await client.ReadAsync("/api/v1/network/plan"))["progress"]![0]!["state"]!.GetValue<string>();

    private static Task<(int Status, JsonNode? Body, string? Tag)> SolveAsync(HttpClient client, object wish) => client.SendAsync(HttpMethod.Post, "/api/v1/network/solutions", new { wish, seconds = 5 });

    private static Task<(int Status, JsonNode? Body, string? Tag)> GiveAsync(DrainboardHost host, HttpClient client, object wish, object[] assigned, string? tag = null, bool ifNoneMatch = false) =>
        client.SendAsync(HttpMethod.Put, "/api/v1/network/plan", new { id = NewId.At(host.Clock.GetCurrentInstant()), wish, assigned }, tag, ifNoneMatch: ifNoneMatch);

    private static (int Status, string? Refusal) Refusal((int Status, JsonNode? Body, string? Tag) answer) => (answer.Status, answer.Body?["refusal"]?.GetValue<string>());

    private static async Task<DrainboardHost> HostAsync(DatabaseKind kind)
    {
        var (started, reason) = await DrainboardHost.TryStartAsync(kind);
        Assert.SkipWhen(started is null, reason);
        return started!;
    }
}
