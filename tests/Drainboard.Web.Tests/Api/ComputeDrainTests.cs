using System.Text.Json.Nodes;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

/// <summary>Isolation and openness as open computations: the worked vectors over HTTP (sources in the domain's tests), and bad input.</summary>
public sealed class ComputeDrainTests(Hosts hosts) : IClassFixture<Hosts>
{
    private const string Tree =
        """
        "segments":[{"id":"SG1","prior":0.1},{"id":"SG2","prior":0.1},{"id":"SL1","prior":0.08},{"id":"SL2","prior":0.08},{"id":"BG","prior":0.03},{"id":"BL","prior":0.03},{"id":"TR","prior":0.02},{"id":"MA","prior":0.015}],
        "fixtures":[{"id":"G1","path":["SG1","BG","TR","MA"]},{"id":"G2","path":["SG2","BG","TR","MA"]},{"id":"L1","path":["SL1","BL","TR","MA"]},{"id":"L2","path":["SL2","BL","TR","MA"]}],
        "link":0.95,"leak":0.01
        """;

    [Fact]
    public async Task Isolation_OfTheWorkedTree_GivesMarginalsStatesChecksAndOrder()
    {
        var (status, answer) = await SendAsync("isolation", $$"""{{{Tree}},"evidence":[{"fixture":"G1","state":"slow"}],"actions":[{"segment":"SG1","minutes":6,"access":"panel-3"},{"segment":"BG","minutes":35}],"deferMinutes":40,"pourMinutes":2}""");

        Assert.True(status == 200, $"{status} {answer}");
        Assert.Equal(0.6024, Math.Round(answer!["marginals"]!["SG1"]!.GetValue<double>(), 4));
        Assert.Equal((0.4155, "SG1"), (Math.Round(answer["topStates"]![0]!["probability"]!.GetValue<double>(), 4), answer["topStates"]![0]!["blocked"]![0]!.GetValue<string>()));
        Assert.Equal(3, answer["topStates"]!.AsArray().Count);
        Assert.Equal(0.1583, Math.Round(answer["evidenceProbability"]!.GetValue<double>(), 4));
        Assert.Equal(("G2", 0.8269, 0.4134), (answer["nextChecks"]![0]!["fixture"]!.GetValue<string>(), Math.Round(answer["nextChecks"]![0]!["gainBits"]!.GetValue<double>(), 4), Math.Round(answer["nextChecks"]![0]!["bitsPerMinute"]!.GetValue<double>(), 4)));
        Assert.Equal("SG1", answer["order"]![0]!.GetValue<string>());
        Assert.NotEmpty(answer["explanation"]!.AsArray());
    }

    [Theory]
    [InlineData("""{"segments":[{"id":"S","prior":0.1}],"fixtures":[{"id":"A","path":["S"]},{"id":"B","path":["S"]}],"link":1,"leak":0,"evidence":[{"fixture":"A","state":"slow"},{"fixture":"B","state":"ok"}]}""")]
    [InlineData("""{"segments":[{"id":"S","prior":0.1}],"fixtures":[{"id":"A","path":["S"]}],"link":0.9,"leak":0.1,"evidence":[{"fixture":"A","state":"slow"},{"fixture":"A","state":"ok"}]}""")]
    public async Task Isolation_OfContradictoryEvidence_Is422(string body)
    {
        var (status, answer) = await SendAsync("isolation", body);

        Assert.Equal((422, "inconsistent-evidence"), (status, answer!["refusal"]!.GetValue<string>()));
    }

    [Theory]
    [InlineData("fixtures[0].path", """{"segments":[{"id":"S","prior":0.1}],"fixtures":[{"id":"A","path":[]}],"link":0.9,"leak":0.1,"evidence":[]}""")]
    [InlineData("fixtures[1].path", """{"segments":[{"id":"S","prior":0.1},{"id":"M","prior":0.1}],"fixtures":[{"id":"A","path":["S","M"]},{"id":"B","path":["M","S"]}],"link":0.9,"leak":0.1,"evidence":[]}""")]
    [InlineData("segments[0].prior", """{"segments":[{"id":"S","prior":1.1}],"fixtures":[{"id":"A","path":["S"]}],"link":0.9,"leak":0.1,"evidence":[]}""")]
    [InlineData("evidence[0].fixture", """{"segments":[{"id":"S","prior":0.1}],"fixtures":[{"id":"A","path":["S"]}],"link":0.9,"leak":0.1,"evidence":[{"fixture":"X","state":"ok"}]}""")]
    [InlineData("actions[0].segment", """{"segments":[{"id":"S","prior":0.1}],"fixtures":[{"id":"A","path":["S"]}],"link":0.9,"leak":0.1,"evidence":[],"actions":[{"segment":"X","minutes":1}]}""")]
    public async Task Isolation_WithBadInput_Is400WithTheMembersPath(string path, string body)
    {
        var (status, answer) = await SendAsync("isolation", body);

        Assert.Equal(400, status);
        Assert.True(answer!["errors"]!.AsObject().ContainsKey(path), $"No error at {path}: {answer}");
    }

    /// <summary>Vector file 09: 5 litres from 12 to 2 cm in 27 s is 281.0 mm2 at a discharge of 0.61; against 18 s clean it is two thirds open.</summary>
    [Fact]
    public async Task Openness_OfATimedPour_GivesAreaAndOpenness()
    {
        var (status, answer) = await SendAsync("openness", """{"basin":{"areaSquareMetres":0.05,"shape":"prism"},"fromDepthMetres":0.12,"toDepthMetres":0.02,"seconds":27,"secondsUncertainty":0.54,"referenceSeconds":18,"dischargeCoefficient":0.61,"cleanDrainAreaSquareMillimetres":300}""");

        Assert.True(status == 200, $"{status} {answer}");
        Assert.Equal(281.035517, Math.Round(answer!["effectiveAreaSquareMillimetres"]!.GetValue<double>(), 6));
        Assert.Equal(2.0 / 3, answer["openness"]!.GetValue<double>(), 12);
        Assert.Equal(2.0 / 3 * 0.02, answer["opennessUncertainty"]!.GetValue<double>(), 12);
        Assert.False(answer["strainerNotLimiting"]!.GetValue<bool>());
        Assert.True(answer["strainerAreaSquareMillimetres"]!.GetValue<double>() > 281);
    }

    [Theory]
    [InlineData("seconds", """{"seconds":0,"referenceSeconds":18}""")]
    [InlineData("toDepthMetres", """{"basin":{"shape":"prism","areaSquareMetres":0.05},"fromDepthMetres":0.02,"toDepthMetres":0.12,"seconds":27}""")]
    [InlineData("basin.radiusMetres", """{"basin":{"shape":"hemisphere","radiusMetres":-1},"fromDepthMetres":0.12,"toDepthMetres":0.02,"seconds":27}""")]
    [InlineData("basin", """{"seconds":27}""")]
    public async Task Openness_WithBadInput_Is400WithTheMembersPath(string path, string body)
    {
        var (status, answer) = await SendAsync("openness", body);

        Assert.Equal(400, status);
        Assert.True(answer!["errors"]!.AsObject().ContainsKey(path), $"No error at {path}: {answer}");
    }

    [Fact]
    public async Task Openness_AgainstAReferenceSlowerThanTheTest_Is422()
    {
        var (status, answer) = await SendAsync("openness", """{"seconds":18,"referenceSeconds":27}""");

        Assert.Equal((422, "reference-slower"), (status, answer!["refusal"]!.GetValue<string>()));
    }

    private async Task<(int Status, JsonNode? Body)> SendAsync(string computation, string body)
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var (status, answer, _) = await (await host.ClientForAsync("engineer")).SendAsync(HttpMethod.Post, $"/api/v1/compute/{computation}", JsonNode.Parse(body));
        return (status, answer);
    }
}
