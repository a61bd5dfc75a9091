using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

public sealed class HandoversTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Handover_TellsWhatStands_IsSignedAndTakenOver(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var defect = await Station.OpenAsync(host, "QQ-TSB", leak: "leaking");
        var (tech, lead, cert) = (await host.ClientForAsync("tech"), await host.ClientForAsync("lead"), await host.ClientForAsync("cert"));
        await SendAsync(tech, $"/api/v1/defects/{defect}/disturbed", new { id = New(host), kind = "breaker", words = "Galley 1 chiller" });
        await SendAsync(tech, $"/api/v1/defects/{defect}/parts", new { id = New(host), state = "awaited", name = "Trap seal" });

        var now = await lead.ReadAsync("/api/v1/stations/QQAA/handover");
        var content = now["content"]!;
        Assert.Contains("Nobody has it", Words(content["open"]!, defect), StringComparison.Ordinal);
        Assert.Contains("Waits for Trap seal", Words(content["open"]!, defect), StringComparison.Ordinal);
        Assert.Contains("Awaited since", Words(content["awaited"]!, defect), StringComparison.Ordinal);
        Assert.Contains("Not restored", Words(content["disturbed"]!, defect), StringComparison.Ordinal);
        Assert.Contains("LEAKS, trap", Words(content["cautions"]!, defect), StringComparison.Ordinal);

        // What changed since it was read is read before it is signed.
        await SendAsync(tech, $"/api/v1/defects/{defect}/taking", new { id = New(host), have = true });
        var id = New(host);
        var stale = await lead.SendAsync(HttpMethod.Post, "/api/v1/stations/QQAA/handovers", new { id = New(host), hash = now["hash"]!.GetValue<string>(), signingCode = SmallFleet.SigningCode });
        Assert.Equal((422, "handover-changed"), (stale.Status, stale.Body!["refusal"]!.GetValue<string>()));
        var seen = (await lead.ReadAsync("/api/v1/stations/QQAA/handover"))["hash"]!.GetValue<string>();
        await SendAsync(lead, "/api/v1/stations/QQAA/handovers", new { id, hash = seen, notes = "Chiller stays off.", signingCode = SmallFleet.SigningCode });

        var own = await lead.SendAsync(HttpMethod.Post, $"/api/v1/stations/QQAA/handovers/{id}/taking-over", new { id = New(host), signingCode = SmallFleet.SigningCode });
        Assert.Equal((422, "own-handover"), (own.Status, own.Body!["refusal"]?.GetValue<string>()));
        await SendAsync(cert, $"/api/v1/stations/QQAA/handovers/{id}/taking-over", new { id = New(host), signingCode = SmallFleet.SigningCode });

        var after = await lead.ReadAsync("/api/v1/stations/QQAA/handover");
        Assert.Equal(("Chiller stays off.", "Cert Person", seen), (after["last"]!["notes"]!.GetValue<string>(), after["last"]!["incomingName"]!.GetValue<string>(), after["last"]!["hash"]!.GetValue<string>()));
        Assert.Equal(after["last"]!["signedAt"]!.GetValue<string>(), after["from"]!.GetValue<string>());
    }

    private static string Words(System.Text.Json.Nodes.JsonNode lines, string defect) => string.Join(" ", lines.AsArray().Where(line => line!["defect"]?.GetValue<string>() == defect).Select(line => line!["words"]!.GetValue<string>()));

    private static async Task SendAsync(HttpClient client, string path, object body)
    {
        var (status, answer, _) = await client.SendAsync(HttpMethod.Post, path, body);
        Assert.True(status == 200, $"{path}: {status} {answer}");
    }

    private static Guid New(DrainboardHost host) => NewId.At(host.Clock.GetCurrentInstant());
}
