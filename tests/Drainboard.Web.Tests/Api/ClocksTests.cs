using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.SetUp;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Api;

/// <summary>The controller's list, and how flights, extensions and policies move its clocks.</summary>
public sealed class ClocksTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Clocks_OfADeferredSink_NameTheLastStayThatCanTakeIt(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var defect = await Station.DeferredAsync(host, tail: "QQ-TSB");

        var line = await LineAsync(host, defect);

        // QQ-TSB stands at QQAA, which does drains, for another 45 minutes and has no later stay.
        Assert.Equal("QQAA", line["lastVisit"]!["station"]!.GetValue<string>());
        Assert.Equal("2026-02-06T00:00:00Z", line["clock"]!["dueAt"]!.GetValue<string>());
        var csv = await (await host.ClientForAsync("control")).GetStringAsync(new Uri("/api/v1/clocks.csv?tail=qq-tsb", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Contains("QQ-TSB", csv, StringComparison.Ordinal);
        Assert.DoesNotContain("QQ-TSA", csv, StringComparison.Ordinal);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Clocks_WithNoStayInTime_RiseAboveThoseThatHaveOne(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var control = await host.ClientForAsync("control");
        var able = await Station.DeferredAsync(host, "38-02", "QQ-TSA");
        var stranded = await Station.DeferredAsync(host, "38-01", "QQ-TSB");

        // The tail leaves in a quarter of an hour and nothing else is planned: too short for the work.
        await MustAsync(control, HttpMethod.Put, "/api/v1/turns/T-B", new { tail = "QQ-TSB", station = "QQAA", estimatedArrival = Station.Iso(SmallFleet.Now - Duration.FromMinutes(30)), estimatedDeparture = Station.Iso(SmallFleet.Now + Duration.FromMinutes(15)), onBlocks = Station.Iso(SmallFleet.Now - Duration.FromMinutes(30)) });

        var lines = (await control.ReadAsync("/api/v1/clocks"))["lines"]!.AsArray().Select(line => line!["defect"]!.GetValue<string>()).ToList();
        Assert.True(lines.IndexOf(stranded) < lines.IndexOf(able), $"{string.Join(", ", lines)}");
        Assert.Contains(stranded, (await control.ReadAsync("/api/v1/clocks?shown=stranded"))["lines"]!.AsArray().Select(line => line!["defect"]!.GetValue<string>()));
        await MustAsync(control, HttpMethod.Put, "/api/v1/turns/T-B", new { tail = "QQ-TSB", station = "QQAA", estimatedArrival = Station.Iso(SmallFleet.Now - Duration.FromMinutes(30)), estimatedDeparture = Station.Iso(SmallFleet.Now + Duration.FromMinutes(45)), onBlocks = Station.Iso(SmallFleet.Now - Duration.FromMinutes(30)) });
    }

    /// <summary>A limit in cycles: planned flights give the end, a delay moves it, a swap of tails opens it, and the story says each time from when to when.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Sectors_Changed_DeriveTheClockAnewAndSayWhatMoved(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        await ImportCyclesAsync(host);
        var control = await host.ClientForAsync("control");
        await SectorAsync(control, "S-1", "QQ-TSC", 6);
        await SectorAsync(control, "S-2", "QQ-TSC", 12);
        var defect = await Station.ReportedAsync(host, "QQ-TSC", "K-2");
        await Station.MustAsync(host, "tech.b", defect, "sorting", new { symptom = "drainsSlowly", leak = "noneSeen", log = Station.Log(SmallFleet.Now) });
        await Station.MustAsync(host, "tech.b", defect, "deferral", await Station.ProposalAsync(host, "38-09"));
        await Station.MustAsync(host, "control", defect, "deferral/authorisation", new { reference = "MC-1" });
        await Station.MustAsync(host, "cert.b", defect, "deferral/certification", new { signingCode = SmallFleet.SigningCode });
        Assert.Equal(Station.Iso(SmallFleet.Now + Duration.FromHours(14)), await DueAsync(host, defect));

        await SectorAsync(control, "S-2", "QQ-TSC", 13);
        Assert.Equal(Station.Iso(SmallFleet.Now + Duration.FromHours(15)), await DueAsync(host, defect));

        await SectorAsync(control, "S-2", "QQ-TSB", 13);
        Assert.Null(await DueAsync(host, defect));
        Assert.Contains((await Station.ReadAsync(host, defect))["story"]!.AsArray(), line => line!["kind"]!.GetValue<string>() == "deferral.clock-moved");

        await SectorAsync(control, "S-2", "QQ-TSC", 12);
        Assert.Equal(200, (await control.SendAsync(HttpMethod.Delete, "/api/v1/sectors/S-2", null)).Status);
        Assert.Null(await DueAsync(host, defect));
        await Station.MustAsync(host, "control", defect, "deferral/end", new { reason = "Test over." });
    }

    /// <summary>Written up on Monday, flown on Tuesday morning, signed on Tuesday afternoon: Tuesday is flight day one, and stays it when flights change later.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task FlightDays_BeforeTheSignature_StayCountedWhenFlightsChange(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var control = await host.ClientForAsync("control");
        await ImportCyclesAsync(host);
        var defect = await Station.OpenAsync(host, "QQ-TSB", "K-2");
        await SectorAsync(control, "D-1", "QQ-TSB", 20);
        await SectorAsync(control, "D-2", "QQ-TSB", 44);
        host.Clock.AdvanceHours(28);
        await Station.MustAsync(host, "tech", defect, "deferral", await Station.ProposalAsync(host, "38-10"));
        await Station.MustAsync(host, "control", defect, "deferral/authorisation", new { reference = "MC-1" });
        await Station.MustAsync(host, "cert", defect, "deferral/certification", new { signingCode = SmallFleet.SigningCode });
        Assert.Equal("2026-01-29T00:00:00Z", await DueAsync(host, defect));

        await SectorAsync(control, "D-3", "QQ-TSB", 68);

        Assert.Equal("2026-01-29T00:00:00Z", await DueAsync(host, defect));
        host.Clock.AdvanceHours(-28);
    }

    /// <summary>A station's zone changes with an update of the time zone data while a clock runs: what was told to people stands, and the clock says so.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Clock_CountedWithEarlierZoneData_KeepsItsEndAndSaysSo(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var host = await hosts.OnAsync(kind);
        var defect = await Station.DeferredAsync(host);
        var id = new Domain.Defects.DefectId(Guid.Parse(defect));
        await using (var db = await host.Db.CreateDbContextAsync(stop))
        {
            await db.Deferrals.Where(row => row.Defect == id).ExecuteUpdateAsync(set => set.SetProperty(row => row.DueAt, Instant.FromUtc(2026, 2, 5, 23, 0)).SetProperty(row => row.TimeZoneData, "TZDB: 2024a"), stop);
        }

        var why = await (await host.ClientForAsync("control")).ReadAsync($"/api/v1/defects/{defect}/deferral/clock");

        Assert.Equal("2026-02-05T23:00:00Z", why["dueAt"]!.GetValue<string>());
        Assert.Equal("2026-02-05T23:00:00Z", (await LineAsync(host, defect))["clock"]!["dueAt"]!.GetValue<string>());
        Assert.Contains("that stands", why["explanation"]!.ToJsonString(), StringComparison.Ordinal);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Sector_ThatOverlapsAnother_IsRefused(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var control = await host.ClientForAsync("control");
        await SectorAsync(control, "O-1", "QQ-TSA", 200);

        var (status, body, _) = await control.SendAsync(HttpMethod.Put, "/api/v1/sectors/O-2", Sector("QQ-TSA", 201));

        Assert.Equal((422, "overlapping-sectors"), (status, body!["refusal"]!.GetValue<string>()));
        var report = await host.Services.GetRequiredService<Importer>().RunAsync(new Dictionary<string, string> { ["sectors.csv"] = $"key,tail,from,to,offBlock,onBlock\nO-3,QQ-TSA,QQAA,QQBB,{Station.Iso(SmallFleet.Now + Duration.FromHours(201))},{Station.Iso(SmallFleet.Now + Duration.FromHours(203))}\n" }, dry: true, Actor.Installation, TestContext.Current.CancellationToken);
        Assert.Contains(report.Faults, fault => fault is { File: "sectors.csv", Row: 2 } && fault.Words.Contains("O-1", StringComparison.Ordinal));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Policy_OfTheOperator_IsVersionedAndARunningDeferralKeepsItsOwn(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var admin = await host.ClientForAsync("admin");
        Assert.Equal(200, (await SavePolicyAsync(admin, "marram", 10, null)).Status);
        Assert.Equal(412, (await SavePolicyAsync(admin, "marram", 8, null)).Status);
        await UseAsync(admin, "marram");
        var defect = await Station.DeferredAsync(host, "38-01");
        Assert.Equal("2026-02-06T00:00:00Z", await DueAsync(host, defect));

        Assert.Equal(200, (await SavePolicyAsync(admin, "marram", 8, 1)).Status);

        Assert.Equal("2026-02-06T00:00:00Z", await DueAsync(host, defect));
        Assert.Equal("2026-02-04T00:00:00Z", await DueAsync(host, await Station.DeferredAsync(host, "38-01")));
        await UseAsync(admin, "us");
    }

    [Fact]
    public async Task Installation_UnderAPolicyWithFieldsYetToSet_IsRefused()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var admin = await host.ClientForAsync("admin");
        var seen = (await admin.ReadAsync("/api/v1/installation"))["version"]!.GetValue<long>();

        var (status, body, _) = await admin.SendAsync(HttpMethod.Put, "/api/v1/installation", new { operatorName = "Test", mode = "besideLog", policy = "hk", repeatRule = "3-in-15-days" }, $"\"{seen}\"");

        Assert.Equal((422, "set-by-operator"), (status, body!["refusal"]!.GetValue<string>()));
    }

    /// <summary>A fixture whose like deferral ended days ago: the new one is shown to control as a possible renewal of a clock.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Proposal_SoonAfterALikeDeferralEnded_IsShownAsAPossibleRenewal(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var first = await Station.DeferredAsync(host);
        await Station.MustAsync(host, "control", first, "deferral/end", new { reason = "Part came." });
        await Station.MustAsync(host, "tech", first, "rectification", Station.Work(host));
        await Station.MustAsync(host, "cert", first, "rectification/release", new { outcome = "rectified", log = Station.Log(host.Clock.GetCurrentInstant()), signingCode = SmallFleet.SigningCode });

        var second = await Station.OpenAsync(host);
        await Station.MustAsync(host, "tech", second, "deferral", await Station.ProposalAsync(host));

        Assert.NotNull((await Station.ReadAsync(host, second))["deferral"]!["renewalOf"]);
        Assert.Contains("renewal of a clock", (await Station.ReadAsync(host, second))["deferral"]!["missing"]!.ToJsonString(), StringComparison.Ordinal);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Extension_AwaitsTheNoticeToTheAuthority(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var defect = await Station.DeferredAsync(host);
        await Station.MustAsync(host, "control", defect, "deferral/extension", new { days = 3, reason = "Part on order." });
        Assert.Equal(Station.Iso(SmallFleet.Now + Duration.FromHours(24)), (await LineAsync(host, defect))["notifyBy"]!.GetValue<string>());

        await Station.MustAsync(host, "control", defect, "deferral/notice", new { reference = "letter 7" });

        Assert.Null((await LineAsync(host, defect))["notifyBy"]);
    }

    private static async Task<JsonNode> LineAsync(DrainboardHost host, string defect) =>
        (await (await host.ClientForAsync("control")).ReadAsync("/api/v1/clocks"))["lines"]!.AsArray().Single(line => line!["defect"]!.GetValue<string>() == defect)!;

    private static async Task<string?> DueAsync(DrainboardHost host, string defect) =>
        (await Station.ReadAsync(host, defect))["deferral"]!["dueAt"]?.GetValue<string>();

    private static async Task SectorAsync(HttpClient control, string key, string tail, int inHours) =>
        await MustAsync(control, HttpMethod.Put, $"/api/v1/sectors/{key}", Sector(tail, inHours));

    private static object Sector(string tail, int inHours) => new { tail, from = "QQBB", to = "QQAA", offBlock = Station.Iso(SmallFleet.Now + Duration.FromHours(inHours)), onBlock = Station.Iso(SmallFleet.Now + Duration.FromHours(inHours + 2)), flown = false };

    private static async Task MustAsync(HttpClient client, HttpMethod method, string path, object body)
    {
        var (status, answer, _) = await client.SendAsync(method, path, body);
        Assert.True(status == 200, $"{method} {path}: {status} {answer}");
    }

    private static Task<(int Status, JsonNode? Body, string? ETag)> SavePolicyAsync(HttpClient admin, string name, int c, int? seen)
    {
        var body = new
        {
            title = "Marram (invented)", source = "Invented MEL preamble 1", days = new { b = 3, c, d = 120 }, timeBase = "utc", excludesDayOfDiscovery = true, calendarStart = "midnight", startsFrom = "logged", countedUnitStart = "deferral", expiryTest = "arrival",
            extendable = new { a = false, b = true, c = true, d = false }, maxExtensions = 1, maxExtensionDays = (int?)null, notifyWithin = new { hours = 24, workingDays = (int?)null }, approvalBeforeA = (bool?)null,
        };
        return admin.SendAsync(HttpMethod.Put, $"/api/v1/policies/{name}", body, seen is { } version ? $"\"{version}\"" : null, ifNoneMatch: seen is null);
    }

    private static async Task UseAsync(HttpClient admin, string policy)
    {
        var seen = await admin.ReadAsync("/api/v1/installation");
        var (status, body, _) = await admin.SendAsync(HttpMethod.Put, "/api/v1/installation", new { operatorName = seen["operatorName"]!.GetValue<string>(), mode = "besideLog", policy, repeatRule = "3-in-15-days" }, $"\"{seen["version"]!.GetValue<long>()}\"");
        Assert.True(status == 200, $"{status} {body}");
    }

    private static async Task ImportCyclesAsync(DrainboardHost host)
    {
        var report = await host.Services.GetRequiredService<Importer>().RunAsync(new Dictionary<string, string>
        {
            ["bases.csv"] = "kind,code,title,revision,category,kinds,installed,required,placardRequired,flightCycles,flightDays\nmelItem,38-09,Sink by cycles (invented),1,A,galleySink,2,1,no,2,\nmelItem,38-10,Sink by flight days (invented),1,A,galleySink,2,1,no,,2\n",
        }, dry: false, Actor.Installation, TestContext.Current.CancellationToken);
        Assert.True(report.Clean, string.Join("; ", report.Faults));
    }
}
