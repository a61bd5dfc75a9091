using System.Globalization;
using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Testing;

namespace Drainboard.Web.Tests;

/// <summary>What people at the small fleet's station do, through the API.</summary>
internal static class Station
{
    public static object Log(Instant at, string line = "1") => new { book = "technical", page = "0412", line, loggedAt = Iso(at) };

    public static string Iso(Instant at) => at.ToString("uuuu-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    public static object Report(DrainboardHost host, Guid? id = null, string tail = "QQ-TSA", string position = "K-1", string leak = "noneSeen", string? leakWhere = null, string symptom = "drainsSlowly") =>
        new { id = id ?? NewId.At(host.Clock.GetCurrentInstant()), tail, position, symptom, leak, leakWhere, seenAt = Iso(host.Clock.GetCurrentInstant()), phase = "inFlight" };

    public static async Task<string> ReportedAsync(DrainboardHost host, string tail = "QQ-TSA", string position = "K-1", string leak = "noneSeen")
    {
        var crew = await host.ClientForAsync("crew");
        var (status, body, _) = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Report(host, tail: tail, position: position, leak: leak, leakWhere: leak == "leaking" ? "trap" : null));
        Assert.Equal(201, status);
        return body!["id"]!.GetValue<string>();
    }

    public static async Task<string> OpenAsync(DrainboardHost host, string tail = "QQ-TSA", string position = "K-1", string leak = "noneSeen")
    {
        var defect = await ReportedAsync(host, tail, position, leak);
        await MustAsync(host, "tech", defect, "sorting", new { symptom = "drainsSlowly", leak, leakWhere = leak == "leaking" ? "trap" : null, log = Log(host.Clock.GetCurrentInstant()) });
        return defect;
    }

    public static async Task<string> DeferredAsync(DrainboardHost host, string basis = "38-01", string tail = "QQ-TSA")
    {
        var defect = await OpenAsync(host, tail);
        await MustAsync(host, "tech", defect, "deferral", await ProposalAsync(host, basis));
        await MustAsync(host, "control", defect, "deferral/authorisation", new { reference = "MC-1" });
        await MustAsync(host, "cert", defect, "deferral/certification", new { signingCode = SmallFleet.SigningCode });
        return defect;
    }

    public static async Task<string> WorkDoneAsync(DrainboardHost host, bool? leakCheck = true)
    {
        var defect = await OpenAsync(host);
        await MustAsync(host, "tech", defect, "rectification", Work(host, leakCheck));
        return defect;
    }

    public static object Work(DrainboardHost host, bool? leakCheck = true, Guid? id = null) => new
    {
        id = id ?? NewId.At(host.Clock.GetCurrentInstant()),
        found = "grounds",
        foundAt = "S-1",
        manualReference = "TEST-AMM 38-31",
        steps = new[] { "Strainer cleaned and refitted." },
        completedAt = Iso(host.Clock.GetCurrentInstant()),
        minutes = 8,
        opsCheck = new { passed = true },
        leakCheck = leakCheck is { } passed ? new { passed } : null,
    };

    public static async Task<object> ProposalAsync(DrainboardHost host, string basis = "38-01")
    {
        var client = await host.ClientForAsync("tech");
        var found = (await client.ReadAsync("/api/v1/bases")).AsArray().Single(one => one!["code"]!.GetValue<string>() == basis)!;
        return new { id = NewId.At(host.Clock.GetCurrentInstant()), basis = found["id"]!.GetValue<string>(), conditionsDone = Enumerable.Range(0, found["terms"]!["conditions"]!.AsArray().Count), placardFitted = true, placardWhere = "above the sink" };
    }

    public static async Task<JsonNode> MustAsync(DrainboardHost host, string who, string defect, string act, object body)
    {
        var (status, answer, _) = await (await host.ClientForAsync(who)).ActAsync(defect, act, body);
        Assert.True(status == 200, $"{who} {act}: {status} {answer}");
        return answer!;
    }

    public static async Task<JsonNode> ReadAsync(DrainboardHost host, string defect, string who = "tech") =>
        await (await host.ClientForAsync(who)).ReadAsync($"/api/v1/defects/{defect}");
}
