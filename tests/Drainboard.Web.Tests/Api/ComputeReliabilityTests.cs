using System.Text.Json.Nodes;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

/// <summary>Repeats, trend, cleaning interval and spares as open computations: published sets over HTTP (sources in the domain's tests), and bad input.</summary>
public sealed class ComputeReliabilityTests(Hosts hosts) : IClassFixture<Hosts>
{
    /// <summary>The ten pumps of Gaver and O'Muircheartaigh 1987.</summary>
    [Fact]
    public async Task Repeats_OfTheTenPumps_RanksFlagsAndExplains()
    {
        int[] events = [5, 1, 5, 14, 3, 19, 1, 1, 4, 22];
        double[] exposure = [94.32, 15.72, 62.88, 125.76, 5.24, 31.44, 1.05, 1.05, 2.10, 10.48];
        var (status, answer) = await SendAsync("repeats", new JsonObject { ["exposureUnit"] = "flightHours", ["falseDiscoveryRate"] = 0.05, ["fixtures"] = new JsonArray([.. events.Select((count, index) => new JsonObject { ["id"] = $"{index + 1}", ["events"] = count, ["exposure"] = exposure[index] })]) }.ToJsonString());

        Assert.True(status == 200, $"{status} {answer}");
        Assert.Equal(0.214261, Math.Round(answer!["fleetRate"]!.GetValue<double>(), 6));
        Assert.Equal((0.822557, 1.260255), (Math.Round(answer["prior"]!["alpha"]!.GetValue<double>(), 6), Math.Round(answer["prior"]!["beta"]!.GetValue<double>(), 6)));
        Assert.Equal("10 9 6 5 7 8 4 3 1 2", string.Join(' ', answer["fixtures"]!.AsArray().Select(one => one!["id"]!.GetValue<string>())));
        Assert.Equal("10 9 6", string.Join(' ', answer["fixtures"]!.AsArray().Where(one => one!["flagged"]!.GetValue<bool>()).Select(one => one!["id"]!.GetValue<string>())));
        Assert.Equal(1.32644, Math.Round(answer["fixtures"]![0]!["posterior05"]!.GetValue<double>(), 5));
        Assert.NotEmpty(answer["explanation"]!.AsArray());
    }

    [Fact]
    public async Task Repeats_OfAnEvenFleet_HasNoPrior()
    {
        var (status, answer) = await SendAsync("repeats", """{"fixtures":[{"id":"a","events":5,"exposure":100},{"id":"b","events":5,"exposure":100},{"id":"c","events":5,"exposure":100}]}""");

        Assert.Equal(200, status);
        Assert.Null(answer!["prior"]);
        Assert.All(answer["fixtures"]!.AsArray(), one => Assert.Equal(0.05, one!["posteriorMean"]!.GetValue<double>()));
    }

    /// <summary>NIST e-Handbook 8.2.3.4.</summary>
    [Fact]
    public async Task Trend_OfTheHandbooksCase_SaysBothTests()
    {
        var (status, answer) = await SendAsync("trend", """{"times":[5,40,43,175,389,712,747,795,1299,1478],"end":1500,"ended":"byTime"}""");

        Assert.True(status == 200, $"{status} {answer}");
        Assert.Equal((-1.326949, 0.184525), (Math.Round(answer!["laplace"]!["u"]!.GetValue<double>(), 6), Math.Round(answer["laplace"]!["p"]!.GetValue<double>(), 6)));
        Assert.Equal((37.228081, 20, 0.021973), (Math.Round(answer["militaryHandbook"]!["chiSquare"]!.GetValue<double>(), 6), answer["militaryHandbook"]!["degreesOfFreedom"]!.GetValue<int>(), Math.Round(answer["militaryHandbook"]!["p"]!.GetValue<double>(), 6)));
        Assert.Equal((0.537229, 279.2106), (Math.Round(answer["powerLaw"]!["beta"]!.GetValue<double>(), 6), Math.Round(answer["powerLaw"]!["meanTimeBetweenNow"]!.GetValue<double>(), 4)));
        Assert.Equal("noTrend", answer["verdict"]!.GetValue<string>());
    }

    [Fact]
    public async Task Trend_OfNone_IsTooFew()
    {
        var (status, answer) = await SendAsync("trend", """{"times":[],"end":100,"ended":"byTime"}""");

        Assert.Equal((200, "tooFew"), (status, answer!["verdict"]!.GetValue<string>()));
        Assert.Null(answer["laplace"] ?? answer["militaryHandbook"] ?? answer["powerLaw"]);
    }

    /// <summary>NIST 8.4.1.3 gives the life; its shape may be 1, so no interval is advised however dear a blockage is.</summary>
    [Fact]
    public async Task Cleaning_WithoutShownWearOut_IsSilent_AndWithItAdvises()
    {
        var nist = string.Join(',', new[] { 54, 187, 216, 240, 244, 335, 361, 373, 375, 386 }.Select(hours => $$"""{"hours":{{hours}},"blocked":true}""").Concat(Enumerable.Repeat("""{"hours":500,"blocked":false}""", 10)));
        var (status, answer) = await SendAsync("cleaning-interval", $$"""{"ages":[{{nist}}],"plannedCost":1,"unplannedCost":5}""");
        Assert.True(status == 200, $"{status} {answer}");
        Assert.Equal((1.7208, 606.528), (Math.Round(answer!["shape"]!.GetValue<double>(), 4), Math.Round(answer["scale"]!.GetValue<double>(), 3)));
        Assert.True(answer["shape90"]![0]!.GetValue<double>() < 1.7208);

        var even = string.Join(',', Enumerable.Range(90, 12).Select(hours => $$"""{"hours":{{hours}},"blocked":true}"""));
        var (_, advised) = await SendAsync("cleaning-interval", $$"""{"ages":[{{even}}],"plannedCost":1,"unplannedCost":5}""");
        Assert.InRange(advised!["bestIntervalHours"]!.GetValue<double>(), 50, 95);
        var (_, dear) = await SendAsync("cleaning-interval", $$"""{"ages":[{{even}}],"plannedCost":5,"unplannedCost":5}""");
        Assert.Null(dear!["bestIntervalHours"]);
        Assert.Equal(0, dear["savingFraction"]!.GetValue<double>());
        Assert.Equal(422, (await SendAsync("cleaning-interval", """{"ages":[{"hours":5,"blocked":true}],"plannedCost":1,"unplannedCost":5}""")).Status);
    }

    /// <summary>A published nomograph exercise: thirty parts, 10,000 h between failures, 90 days, 95 %: eleven spares.</summary>
    [Fact]
    public async Task Spares_OfThePublishedExercise_AreEleven()
    {
        var (status, answer) = await SendAsync("spares", """{"installed":30,"ratePerThousandHours":0.1,"hours":2160,"service":0.95}""");

        Assert.Equal((200, 6.48, 11, 0.966775), (status, Math.Round(answer!["meanDemand"]!.GetValue<double>(), 9), answer["stock"]!.GetValue<int>(), Math.Round(answer["achieved"]!.GetValue<double>(), 6)));
    }

    [Theory]
    [InlineData("repeats", "fixtures", """{"fixtures":[]}""")]
    [InlineData("repeats", "fixtures[0].exposure", """{"fixtures":[{"id":"a","events":1,"exposure":0}]}""")]
    [InlineData("repeats", "fixtures[0].events", """{"fixtures":[{"id":"a","events":-1,"exposure":10}]}""")]
    [InlineData("repeats", "fixtures[1].id", """{"fixtures":[{"id":"a","events":1,"exposure":1},{"id":"a","events":1,"exposure":1}]}""")]
    [InlineData("repeats", "falseDiscoveryRate", """{"fixtures":[{"id":"a","events":1,"exposure":1}],"falseDiscoveryRate":1}""")]
    [InlineData("repeats", "exposureUnit", """{"fixtures":[{"id":"a","events":1,"exposure":1}],"exposureUnit":"legs"}""")]
    [InlineData("trend", "times[1]", """{"times":[5,0],"end":10,"ended":"byTime"}""")]
    [InlineData("trend", "times[0]", """{"times":[11],"end":10,"ended":"byTime"}""")]
    [InlineData("trend", "end", """{"times":[5],"end":10,"ended":"byFailure"}""")]
    [InlineData("trend", "ended", """{"times":[5],"end":10}""")]
    [InlineData("cleaning-interval", "ages[0].hours", """{"ages":[{"hours":0,"blocked":true}],"plannedCost":1,"unplannedCost":5}""")]
    [InlineData("cleaning-interval", "plannedCost", """{"ages":[{"hours":1,"blocked":true}],"plannedCost":0,"unplannedCost":5}""")]
    [InlineData("spares", "service", """{"installed":1,"ratePerThousandHours":1,"hours":1,"service":1}""")]
    [InlineData("spares", "installed", """{"installed":-1,"ratePerThousandHours":1,"hours":1,"service":0.9}""")]
    public async Task Computation_WithBadInput_Is400WithTheMembersPath(string name, string path, string body)
    {
        var (status, answer) = await SendAsync(name, body);

        Assert.Equal(400, status);
        Assert.True(answer!["errors"]!.AsObject().ContainsKey(path), $"No error at {path}: {answer}");
    }

    private async Task<(int Status, JsonNode? Answer)> SendAsync(string name, string body)
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var (status, answer, _) = await (await host.ClientForAsync("engineer")).SendAsync(HttpMethod.Post, $"/api/v1/compute/{name}", JsonNode.Parse(body));
        return (status, answer);
    }
}
