using System.Text.Json.Nodes;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

/// <summary>A layout drawn through the API: versioned, judged, and never at the cost of what stands under an earlier one.</summary>
public sealed class LayoutsTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Layout_ChangedAndMoved_IsTheNextVersionThatTailsFlyWith(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var (admin, drawn) = await ReadAsync(host);
        var fixtures = drawn["fixtures"]!.AsArray();
        fixtures.Add(JsonNode.Parse("""{"position":"CV-A","kind":"checkValve","name":"Check valve, aft","area":"Aft","along":91,"across":50,"access":"Aft panel"}"""));
        var pipes = drawn["connections"]!.AsArray();
        pipes.Single(pipe => pipe!["from"]!.GetValue<string>() == "BR-A")!["to"] = "CV-A";
        pipes.Add(JsonNode.Parse("""{"water":"drainage","from":"CV-A","to":"DM-A"}"""));

        var (status, body, _) = await SaveAsync(admin, drawn, moveTails: true);

        Assert.True(status == 200, $"{status} {body}");
        var tail = await admin.ReadAsync("/api/v1/tails/QQ-TSA");
        var version = tail["layoutVersion"]!.GetValue<int>();
        Assert.Equal(drawn["version"]!.GetValue<int>() + 1, version);
        var plumbing = await admin.ReadAsync("/api/v1/tails/QQ-TSA/plumbing?around=CV-A");
        Assert.Equal(("DM-A", "CV-A", "BR-A"), (plumbing["branch"]!["position"]!.GetValue<string>(), plumbing["branch"]!["from"]![0]!["position"]!.GetValue<string>(), plumbing["branch"]!["from"]![0]!["from"]![0]!["position"]!.GetValue<string>()));
        var versions = (await admin.ReadAsync("/api/v1/layouts")).AsArray().Count(layout => layout!["code"]!.GetValue<string>() == "T1");
        Assert.Equal(version, versions);
    }

    [Theory]
    [InlineData("""{"water":"drainage","from":"DM-A","to":"DL-F"}""", "mast")]
    [InlineData("""{"water":"supply","from":"DM-A","to":"K-1"}""", "grey water or waste")]
    [InlineData("""{"water":"drainage","from":"BR-A","to":"S-1"}""", "circle")]
    [InlineData("""{"water":"drainage","from":"K-1","to":"X-9"}""", "X-9")]
    public async Task Layout_ThatIsNotSound_IsRefusedWithWhatIsWrong(string pipe, string words)
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var (admin, drawn) = await ReadAsync(host);
        drawn["connections"]!.AsArray().Add(JsonNode.Parse(pipe));

        var (status, body, _) = await SaveAsync(admin, drawn);

        Assert.Equal((422, "layout-unsound"), (status, body!["refusal"]!.GetValue<string>()));
        Assert.Contains(words, body["detail"]!.GetValue<string>(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Layout_WithoutAPositionThatIsInUse_CannotTakeItsTails()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        await Station.OpenAsync(host, "QQ-TSB", "K-2");
        var (admin, drawn) = await ReadAsync(host);
        var before = drawn["version"]!.GetValue<int>();
        Without(drawn, "K-2");
        Without(drawn, "S-2");

        var moved = await SaveAsync(admin, drawn, moveTails: true);
        var alone = await SaveAsync(admin, drawn);

        Assert.Equal((422, "positions-in-use"), (moved.Status, moved.Body!["refusal"]!.GetValue<string>()));
        Assert.Contains("QQ-TSB has an open defect at K-2", moved.Body["detail"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Equal(200, alone.Status);

        // The next test finds the whole drawing again.
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/layouts/T1", Body((await admin.ReadAsync("/api/v1/layouts")).AsArray().First(layout => layout!["version"]!.GetValue<int>() == before)!, false), alone.ETag)).Status);
    }

    [Fact]
    public async Task Layout_ThatGivesAPositionAnotherMeaning_IsRefused()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var (admin, drawn) = await ReadAsync(host);
        drawn["fixtures"]!.AsArray().Single(one => one!["position"]!.GetValue<string>() == "K-1")!["kind"] = "lavatoryBasin";

        var (status, body, _) = await SaveAsync(admin, drawn);

        Assert.Equal((422, "position-reused"), (status, body!["refusal"]!.GetValue<string>()));
        Assert.Contains("K-1 is a galley sink in version", body["detail"]!.GetValue<string>(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Layout_TheSameOrSeenOld_IsNotSaved()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var (admin, drawn) = await ReadAsync(host);

        var same = await SaveAsync(admin, drawn);
        var old = await admin.SendAsync(HttpMethod.Put, "/api/v1/layouts/T1", Body(drawn, false), "\"0\"");
        var twice = await admin.SendAsync(HttpMethod.Put, "/api/v1/layouts/T1", Body(drawn, false), ifNoneMatch: true);

        Assert.Equal((422, "layout-same", 412), (same.Status, same.Body!["refusal"]!.GetValue<string>(), old.Status));
        Assert.Equal((422, "layout-exists"), (twice.Status, twice.Body!["refusal"]!.GetValue<string>()));
    }

    [Fact]
    public async Task Plumbing_OfTheSupply_RunsFromTheTank()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);

        var plumbing = await (await host.ClientForAsync("tech")).ReadAsync("/api/v1/tails/QQ-TSC/plumbing?water=supply");

        Assert.Equal("PT-1", plumbing["branch"]!["position"]!.GetValue<string>());
        Assert.Contains(plumbing["branch"]!["from"]!.AsArray(), one => one!["position"]!.GetValue<string>() == "T-A");
    }

    private static void Without(JsonNode drawn, string position)
    {
        foreach (var fixture in drawn["fixtures"]!.AsArray().Where(one => one!["position"]!.GetValue<string>() == position).ToArray())
        {
            drawn["fixtures"]!.AsArray().Remove(fixture);
        }

        foreach (var pipe in drawn["connections"]!.AsArray().Where(one => one!["from"]!.GetValue<string>() == position || one["to"]!.GetValue<string>() == position).ToArray())
        {
            drawn["connections"]!.AsArray().Remove(pipe);
        }
    }

    private static async Task<(HttpClient Admin, JsonNode Drawn)> ReadAsync(DrainboardHost host)
    {
        var admin = await host.ClientForAsync("admin");
        return (admin, (await admin.ReadAsync("/api/v1/layouts")).AsArray().First(layout => layout!["code"]!.GetValue<string>() == "T1")!);
    }

    private static object Body(JsonNode drawn, bool moveTails) => new { name = drawn["name"], seats = drawn["seats"], fixtures = drawn["fixtures"], connections = drawn["connections"], moveTails };

    private static Task<(int Status, JsonNode? Body, string? ETag)> SaveAsync(HttpClient admin, JsonNode drawn, bool moveTails = false) =>
        admin.SendAsync(HttpMethod.Put, "/api/v1/layouts/T1", Body(drawn, moveTails), $"\"{drawn["version"]}\"");
}
