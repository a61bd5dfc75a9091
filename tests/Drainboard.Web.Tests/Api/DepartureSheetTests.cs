using System.Text;
using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.SetUp;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Api;

/// <summary>14 CFR 121.628(a): records that identify the inoperable items are available to the pilot before the flight.</summary>
public sealed class DepartureSheetTests(Hosts hosts) : IClassFixture<Hosts>
{
    /// <summary>
    /// A mast that is carried stands first on the sheet and in front on its tail, with what keeps water from freezing on it; the item asks nothing of maintenance, so the usual
    /// is asked (common practice, no source).
    /// </summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Mast_ThatIsCarried_StandsInFrontWithItsConditions(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        var report = await host.Services.GetRequiredService<Importer>().RunAsync(new Dictionary<string, string> { ["bases.csv"] = "kind,code,title,revision,category,kinds,installed,required,placardRequired\nmelItem,30-70,Mast heater (invented),1,C,drainMast,2,1,no\n" }, dry: false, Actor.Installation, TestContext.Current.CancellationToken);
        Assert.True(report.Clean, string.Join("; ", report.Faults));
        await Station.DeferredAsync(host);
        var tech = await host.ClientForAsync("tech");
        Assert.Empty((await tech.ReadAsync("/api/v1/tails/QQ-TSA"))["masts"]!.AsArray());

        var defect = await Station.OpenAsync(host, position: "DM-A");
        await Station.MustAsync(host, "tech", defect, "deferral", await Station.ProposalAsync(host, "30-70"));
        var mast = Assert.Single((await tech.ReadAsync("/api/v1/tails/QQ-TSA"))["masts"]!.AsArray())!;
        Assert.False(mast["running"]!.GetValue<bool>());
        Assert.Equal(["Water of all that drains to this mast shut off, and placarded there.", "Line down to this mast drained; no ice on or under it."], mast["conditions"]!.AsArray().Select(one => one!["words"]!.GetValue<string>()));
        Assert.All(mast["conditions"]!.AsArray(), one => Assert.Null(one!["at"]));

        await Station.MustAsync(host, "tech", defect, "deferral/preparation", new { conditionsDone = new[] { 0, 1 }, placardFitted = false });
        await Station.MustAsync(host, "control", defect, "deferral/authorisation", new { reference = "MC-2" });
        await Station.MustAsync(host, "cert", defect, "deferral/certification", new { signingCode = SmallFleet.SigningCode });
        Assert.True((await tech.ReadAsync("/api/v1/tails/QQ-TSA"))["masts"]![0]!["running"]!.GetValue<bool>());
        Assert.Equal(["DM-A", "K-1"], (await SheetAsync(host))["carried"]!.AsArray().Select(item => item!["position"]!.GetValue<string>()));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Sheet_OfATailWithACarriedItem_NamesItAndIsAcknowledgedOnceByEach(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        await Station.DeferredAsync(host);
        var sheet = await SheetAsync(host);
        Assert.Contains(sheet["carried"]!.AsArray(), item => item!["basis"]!.GetValue<string>().Contains("38-01", StringComparison.Ordinal) && item["conditions"]!.AsArray().Count == 2);

        Assert.Equal(200, (await AcknowledgeAsync(host, "pilot", "pilotInCommand", sheet)).Status);
        Assert.Equal(200, (await AcknowledgeAsync(host, "crew", "seniorCrewMember", sheet)).Status);

        var again = await AcknowledgeAsync(host, "pilot", "pilotInCommand", sheet);
        Assert.Equal((422, "acknowledged-before"), (again.Status, again.Body!["refusal"]!.GetValue<string>()));
        var wrong = await AcknowledgeAsync(host, "crew", "pilotInCommand", sheet);
        Assert.Equal((422, "not-this-signer"), (wrong.Status, wrong.Body!["refusal"]!.GetValue<string>()));
        Assert.Equal(2, (await SheetAsync(host))["acknowledged"]!.AsArray().Count(one => one!["ofThisSheet"]!.GetValue<bool>()));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Acknowledgement_OfASheetThatChanged_IsRefusedAndEarlierOnesNoLongerCount(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var sheet = await SheetAsync(host);
        await AcknowledgeAsync(host, "pilot", "pilotInCommand", sheet);
        await Station.DeferredAsync(host, "38-02");

        var late = await AcknowledgeAsync(host, "crew", "seniorCrewMember", sheet);

        Assert.Equal((422, "sheet-changed"), (late.Status, late.Body!["refusal"]!.GetValue<string>()));
        Assert.Contains((await SheetAsync(host))["acknowledged"]!.AsArray(), one => !one!["ofThisSheet"]!.GetValue<bool>());
    }

    /// <summary>A return to the gate opens the turn again: what was acknowledged before is acknowledged anew.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task ReturnToGate_AsksForTheAcknowledgementsAgain(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var control = await host.ClientForAsync("control");
        await AcknowledgeAsync(host, "pilot", "pilotInCommand", await SheetAsync(host));
        await TurnAsync(control, SmallFleet.Now - Duration.FromMinutes(5));
        await TurnAsync(control, null);

        var sheet = await SheetAsync(host);

        Assert.NotEmpty(sheet["acknowledged"]!.AsArray());
        Assert.DoesNotContain(sheet["acknowledged"]!.AsArray(), one => one!["ofThisSheet"]!.GetValue<bool>());
    }

    [Theory]
    [InlineData("A4", "MediaBox [0 0 595")]
    [InlineData("letter", "MediaBox [0 0 612")]
    public async Task Pdf_OfASheet_IsOnePaperOfItsSize(string size, string box)
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        await Station.DeferredAsync(host);

        var bytes = await (await host.ClientForAsync("pilot")).GetByteArrayAsync(new Uri($"/api/v1/tails/QQ-TSA/departure-sheet.pdf?size={size}", UriKind.Relative), TestContext.Current.CancellationToken);

        var text = Encoding.Latin1.GetString(bytes);
        Assert.StartsWith("%PDF-", text, StringComparison.Ordinal);
        Assert.Contains(box.Replace(" ", "", StringComparison.Ordinal), text.Replace(" ", "", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    private static async Task<JsonNode> SheetAsync(DrainboardHost host) =>
        await (await host.ClientForAsync("pilot")).ReadAsync("/api/v1/tails/QQ-TSA/departure-sheet");

    private static async Task<(int Status, JsonNode? Body, string? ETag)> AcknowledgeAsync(DrainboardHost host, string who, string signer, JsonNode sheet) =>
        await (await host.ClientForAsync(who)).SendAsync(HttpMethod.Post, "/api/v1/tails/QQ-TSA/departure-sheet/acknowledgement", new { id = NewId.At(host.Clock.GetCurrentInstant()), signer, hash = sheet["hash"]!.GetValue<string>() });

    private static async Task TurnAsync(HttpClient control, Instant? off)
    {
        var (status, body, _) = await control.SendAsync(HttpMethod.Put, "/api/v1/turns/T-A", new { tail = "QQ-TSA", station = "QQAA", stand = "14", estimatedArrival = Station.Iso(SmallFleet.Now - Duration.FromMinutes(60)), estimatedDeparture = Station.Iso(SmallFleet.Now + Duration.FromMinutes(90)), onBlocks = Station.Iso(SmallFleet.Now - Duration.FromMinutes(60)), offBlocks = off is { } at ? Station.Iso(at) : null });
        Assert.True(status == 200, $"{status} {body}");
    }
}
