using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.SetUp;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Web.Tests.Api;

public sealed class ToiletsTests(Hosts hosts) : IClassFixture<Hosts>
{
    /// <summary>One toilet of one: a report alone does not put it out, a defect does, and the one at the sink says nothing of it.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Toilet_OutOfService_IsCountedAndItsCostSaid(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var client = await host.ClientForAsync("tech");
        var before = await client.ReadAsync("/api/v1/tails/QQ-TSA/toilets");
        Assert.Equal((1, 1, 100), (before["installed"]!.GetValue<int>(), before["inService"]!.GetValue<int>(), before["passengers"]!.GetValue<int>()));
        Assert.Contains("at the peak", before["now"]!["words"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Null(before["oneFewer"]);

        var defect = await Station.OpenAsync(host, position: "T-A");
        var after = await client.ReadAsync("/api/v1/tails/QQ-TSA/toilets");
        Assert.Equal(0, after["inService"]!.GetValue<int>());
        Assert.Null(after["now"]);
        Assert.Equal("No toilet is in service then.", (await client.ReadAsync($"/api/v1/defects/{defect}/fit"))["deferral"]!["waiting"]!.GetValue<string>());
        Assert.Null((await client.ReadAsync($"/api/v1/defects/{await Station.OpenAsync(host)}/fit"))["deferral"]!["waiting"]);
        Assert.Equal(404, (await client.SendAsync(HttpMethod.Get, "/api/v1/tails/QQ-XXX/toilets", null)).Status);
    }

    /// <summary>An operator's own figures are what waiting is worked out from; what cannot be is refused.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Terms_Changed_MoveTheWaiting(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var admin = await host.ClientForAsync("admin");
        var before = (await admin.ReadAsync("/api/v1/tails/QQ-TSB/toilets"))["now"]!["peakChance"]!.GetValue<double>();
        var (_, _, tag) = await admin.SendAsync(HttpMethod.Get, "/api/v1/waiting-terms", null);
        Assert.Equal(422, (await admin.SendAsync(HttpMethod.Put, "/api/v1/waiting-terms", new { peakFactor = 0.5 }, tag)).Status);
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/waiting-terms", new { usesPerPassengerHour = 0.05 }, tag)).Status);
        Assert.True((await admin.ReadAsync("/api/v1/tails/QQ-TSB/toilets"))["now"]!["peakChance"]!.GetValue<double>() < before);
        Assert.Equal(412, (await admin.SendAsync(HttpMethod.Put, "/api/v1/waiting-terms", new { usesPerPassengerHour = 0.05 }, tag)).Status);
    }

    /// <summary>
    /// The operator's minimum by length of sector: shown as a warning or as forbidden, on the departure sheet too; one that forbids refuses to carry the toilet into the
    /// next sector, and a short one before it leaves the choice. What cannot be a rule is refused with nothing lost.
    /// </summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Minimum_OfTheOperator_WarnsOrForbids(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        var (admin, control) = (await host.ClientForAsync("admin"), await host.ClientForAsync("control"));
        var report = await host.Services.GetRequiredService<Importer>().RunAsync(new Dictionary<string, string> { ["bases.csv"] = "kind,code,title,revision,category,kinds,installed,required,placardRequired,placardText\nmelItem,38-30,Toilet (invented),1,C,toilet,1,0,yes,LAVATORY INOPERATIVE\n" }, dry: false, Actor.Installation, TestContext.Current.CancellationToken);
        Assert.True(report.Clean, string.Join("; ", report.Faults));
        await FlyAsync(control, 240);

        var (_, _, tag) = await admin.SendAsync(HttpMethod.Get, "/api/v1/toilet-minimums", null);
        foreach (var (rule, code) in new (object, string)[] { (Rule(hours: 25), "minimum-hours"), (Rule(fewest: 0), "minimum-toilets"), (Rule(layout: "ZZ"), "no-such-layout"), (null!, "empty-rule") })
        {
            var (status, body, _) = await admin.SendAsync(HttpMethod.Put, "/api/v1/toilet-minimums", new[] { rule }, tag);
            Assert.Equal((422, code), (status, body!["refusal"]!.GetValue<string>()));
        }

        Assert.Empty((await admin.ReadAsync("/api/v1/toilet-minimums")).AsArray());
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/toilet-minimums", new[] { Rule(forbids: false), Rule(hours: 4) }, tag)).Status);
        Assert.Equal(412, (await admin.SendAsync(HttpMethod.Put, "/api/v1/toilet-minimums", new[] { Rule() }, tag)).Status);

        // Out, and a rule for sectors over two hours warns; the one for those over four does not hold for four.
        var defect = await Station.OpenAsync(host, position: "T-A");
        var next = (await admin.ReadAsync("/api/v1/tails/QQ-TSA/toilets"))["next"]![0]!;
        Assert.Equal("QQAA to QQBB takes 4 h with 0 of 1 toilets in service; the operator asks for at least 1 toilet on sectors over 2 h of layout T1.", next["minimum"]!.GetValue<string>());
        Assert.False(next["forbidden"]!.GetValue<bool>());
        Assert.Single(next["peaks"]!.AsArray());
        Assert.Contains((await admin.ReadAsync("/api/v1/tails/QQ-TSA/departure-sheet"))["notes"]!.AsArray(), note => !note!["forbids"]!.GetValue<bool>() && note["words"]!.GetValue<string>().Contains("at least 1 toilet", StringComparison.Ordinal));

        // Now one forbids: it is on the sheet, and the toilet is not carried into that sector.
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/toilet-minimums", new[] { Rule(hours: 3.5) }, (await admin.SendAsync(HttpMethod.Get, "/api/v1/toilet-minimums", null)).ETag)).Status);
        Assert.Contains((await admin.ReadAsync("/api/v1/tails/QQ-TSA/departure-sheet"))["notes"]!.AsArray(), note => note!["forbids"]!.GetValue<bool>());
        var no = await (await host.ClientForAsync("tech")).ActAsync(defect, "deferral", await Station.ProposalAsync(host, "38-30"));
        Assert.Equal((422, "toilet-minimum"), (no.Status, no.Body!["refusal"]!.GetValue<string>()));

        // With a short flight next, it may be; the item asks nothing of operations, so the usual checks of a locked lavatory are conditions.
        await FlyAsync(control, 60);
        await Station.MustAsync(host, "tech", defect, "deferral", await Station.ProposalAsync(host, "38-30"));
        var conditions = (await Station.ReadAsync(host, defect))["deferral"]!["conditions"]!.AsArray();
        Assert.Equal(["Lavatory locked.", "Crew told to go on checking its smoke detection and waste bin extinguisher."], conditions.Select(one => one!["words"]!.GetValue<string>()));

        // The next sector became a long one: neither control nor the certifying technician begins it. Nor does a late departure make the flight go away.
        await FlyAsync(control, 240);
        host.Clock.Advance(Duration.FromMinutes(100));
        Assert.True((await admin.ReadAsync("/api/v1/tails/QQ-TSA/toilets"))["next"]![0]!["forbidden"]!.GetValue<bool>());
        foreach (var (who, act, body) in new (string, string, object)[] { ("tech", "preparation", new { conditionsDone = new[] { 0, 1 }, placardFitted = true, placardWhere = "on the door" }), ("control", "authorisation", new { reference = "MC-1" }), ("cert", "certification", new { signingCode = SmallFleet.SigningCode }) })
        {
            var (status, answer, _) = await (await host.ClientForAsync(who)).ActAsync(defect, $"deferral/{act}", body);
            Assert.Equal((422, "toilet-minimum"), (status, answer!["refusal"]!.GetValue<string>()));
        }

        await FlyAsync(control, 60);
        await Station.MustAsync(host, "control", defect, "deferral/authorisation", new { reference = "MC-1" });
    }

    private static async Task FlyAsync(HttpClient control, int minutes) =>
        Assert.Equal(200, (await control.SendAsync(HttpMethod.Put, "/api/v1/sectors/M-1", new { tail = "QQ-TSA", from = "QQAA", to = "QQBB", offBlock = Station.Iso(SmallFleet.Now + Duration.FromMinutes(90)), onBlock = Station.Iso(SmallFleet.Now + Duration.FromMinutes(90 + minutes)), flown = false })).Status);

    private static object Rule(string layout = "T1", double hours = 2, int fewest = 1, bool forbids = true) => new { layout, overHours = hours, fewest, accessible = false, forbids };
}
