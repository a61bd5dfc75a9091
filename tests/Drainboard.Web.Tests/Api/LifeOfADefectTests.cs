using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

public sealed class LifeOfADefectTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Defect_FromReportToRelease_TellsItsStory(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var defect = await Station.DeferredAsync(host);
        var deferred = await Station.ReadAsync(host, defect);
        Assert.Equal("deferred", deferred["state"]!.GetValue<string>());

        // FAA PL-25 as quoted second-hand: recorded 26 January, category C ends at the end of 5 February.
        Assert.Equal("2026-02-06T00:00:00Z", deferred["deferral"]!["dueAt"]!.GetValue<string>());

        await Station.MustAsync(host, "tech", defect, "rectification", Station.Work(host));
        await Station.MustAsync(host, "cert", defect, "rectification/release", new { outcome = "rectified", log = Station.Log(host.Clock.GetCurrentInstant(), "2"), signingCode = SmallFleet.SigningCode });

        var closed = await Station.ReadAsync(host, defect);
        Assert.Equal(("closed", "rectified"), (closed["state"]!.GetValue<string>(), closed["closure"]!.GetValue<string>()));
        Assert.Equal(
            ["report.received", "defect.sorted", "deferral.proposed", "deferral.authorised", "deferral.began", "work.done", "work.released"],
            closed["story"]!.AsArray().Select(line => line!["kind"]!.GetValue<string>()));
        Assert.Equal("Cert Person", closed["story"]![6]!["by"]!.GetValue<string>());
        Assert.DoesNotContain((await (await host.ClientForAsync("tech")).ReadAsync("/api/v1/clocks"))["lines"]!.AsArray(), line => line!["defect"]!.GetValue<string>() == defect);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Release_WithoutLeakCheck_IsRefusedInPlainWords(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var defect = await Station.WorkDoneAsync(host, leakCheck: null);

        var (status, body, _) = await (await host.ClientForAsync("cert")).ActAsync(defect, "rectification/release", new { outcome = "rectified", log = Station.Log(host.Clock.GetCurrentInstant()), signingCode = SmallFleet.SigningCode });

        Assert.Equal((422, "no-leak-check"), (status, body!["refusal"]!.GetValue<string>()));
        Assert.Contains("leak check", body["detail"]!.GetValue<string>(), StringComparison.OrdinalIgnoreCase);
        Assert.Equal("workDone", (await Station.ReadAsync(host, defect))["state"]!.GetValue<string>());
    }

    [Theory]
    [InlineData(DatabaseKind.Sqlite, "cert.none", "no-authorisation-number")]
    [InlineData(DatabaseKind.Postgres, "cert.old", "authorisation-expired")]
    public async Task Release_BySomebodyWithoutAGoodAuthorisation_IsRefused(DatabaseKind kind, string who, string refusal)
    {
        var host = await hosts.OnAsync(kind);
        var defect = await Station.WorkDoneAsync(host);

        var (status, body, _) = await (await host.ClientForAsync(who)).ActAsync(defect, "rectification/release", new { outcome = "rectified", log = Station.Log(host.Clock.GetCurrentInstant()), signingCode = SmallFleet.SigningCode });

        Assert.Equal((422, refusal), (status, body!["refusal"]!.GetValue<string>()));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Merger_OfASecondReport_KeepsItAndClosesItAsTheSame(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var first = await Station.OpenAsync(host, position: "K-2");
        var second = await Station.ReportedAsync(host, position: "K-2");

        await Station.MustAsync(host, "tech", second, "merger", new { into = first });

        Assert.Equal("sameDefect", (await Station.ReadAsync(host, second))["closure"]!.GetValue<string>());
        Assert.Equal(2, (await Station.ReadAsync(host, first))["reports"]!.AsArray().Count);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Error_OfWhatStandsInTheLog_NeedsTheLineThatClosesIt(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var defect = await Station.OpenAsync(host, "QQ-TSB", "K-2");
        var lead = await host.ClientForAsync("lead");

        var (status, body, _) = await lead.ActAsync(defect, "error", new { reason = "Wrong tail." });
        Assert.Equal((422, "no-log-reference"), (status, body!["refusal"]!.GetValue<string>()));

        Assert.Equal(200, (await lead.ActAsync(defect, "error", new { reason = "Wrong tail.", log = Station.Log(host.Clock.GetCurrentInstant(), "9") })).Status);
        Assert.Equal("Tech log 0412-9", (await Station.ReadAsync(host, defect))["closureLog"]!.GetValue<string>());
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Report_ThirdOnAFixtureWithReleasesBetween_IsFlaggedAsARepeat(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        for (var time = 1; time <= 2; time++)
        {
            var defect = await Station.OpenAsync(host, "QQ-TSB", "B-A");
            await Station.MustAsync(host, "tech", defect, "rectification", Station.Work(host));
            await Station.MustAsync(host, "cert", defect, "rectification/release", new { outcome = "rectified", log = Station.Log(host.Clock.GetCurrentInstant()), signingCode = SmallFleet.SigningCode });
            host.Clock.AdvanceMinutes(1);
        }

        var third = await Station.ReportedAsync(host, "QQ-TSB", "B-A");

        var repeat = (await Station.ReadAsync(host, third))["repeat"];
        Assert.Equal(3, repeat!["count"]!.GetValue<int>());
        Assert.Contains("rectified (coffee grounds)", repeat["reason"]!.GetValue<string>(), StringComparison.Ordinal);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Board_AfterAReport_ShowsItOnItsTail(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var defect = await Station.ReportedAsync(host, "QQ-TSB", "T-A");

        var board = await (await host.ClientForAsync("tech")).ReadAsync("/api/v1/board/QQAA");

        var cards = board["cards"]!.AsArray();
        Assert.Equal(["QQ-TSB", "QQ-TSA"], cards.Select(card => card!["tail"]!.GetValue<string>()).Take(2));
        Assert.Contains(cards[0]!["items"]!.AsArray(), item => item!["id"]!.GetValue<string>() == defect);
    }
}
