using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Defects;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Api;

/// <summary>What a device that sends again and again is answered (after the IETF draft on the Idempotency-Key header, -07).</summary>
public sealed class ReportsTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Report_SentAgainAMonthLater_IsTheSameAndStandsOnce(DatabaseKind kind)
    {
        // A program of its own: a month on, the aircraft of the other tests have left.
        var (started, reason) = await DrainboardHost.TryStartAsync(kind);
        Assert.SkipWhen(started is null, reason);
        await using var host = started!;
        var crew = await host.ClientForAsync("crew");
        var report = Station.Report(host);

        var first = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", report);
        host.Clock.Advance(NodaTime.Duration.FromDays(31));
        var again = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", report);

        Assert.Equal((201, 201), (first.Status, again.Status));
        Assert.Equal(first.Body!.ToJsonString(), again.Body!.ToJsonString());
        Assert.Single((await Station.ReadAsync(host, first.Body!["id"]!.GetValue<string>()))["reports"]!.AsArray());
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Report_SameIdOtherContents_OtherKey_OrUnderway_IsToldApart(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var crew = await host.ClientForAsync("crew");
        var id = NewId.At(host.Clock.GetCurrentInstant());
        Assert.Equal(201, (await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, id))).Status);

        Assert.Equal(422, (await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, id, position: "K-2"))).Status);
        Assert.Equal(400, (await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, id), key: NewId.At(host.Clock.GetCurrentInstant()).ToString())).Status);
        Assert.Equal(400, (await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", new { tail = "QQ-TSA" })).Status);
        using (host.Services.GetRequiredService<ReportsUnderway>().Begin(id))
        {
            Assert.Equal(409, (await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, id))).Status);
        }

        Assert.Equal(201, (await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, id), key: id.ToString())).Status);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Photo_InPieces_GoesOnWhereItBrokeOff(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var crew = await host.ClientForAsync("crew");
        var id = NewId.At(host.Clock.GetCurrentInstant());
        var photo = TestPhotos.Jpeg();
        var path = $"/api/v1/reports/{id}/photos/{Convert.ToHexStringLower(SHA256.HashData(photo))}";
        var half = photo.Length / 2;

        // Before its report there is nothing to add it to.
        Assert.Equal(404, await PieceAsync(crew, path, photo, 0, half));
        var (_, opened, _) = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, id));
        Assert.Equal(202, await PieceAsync(crew, path, photo, 0, half));
        Assert.Equal((half, false), await ArrivedAsync(crew, path));

        // A piece that is here already, and one with a gap before it, change nothing.
        Assert.Equal(202, await PieceAsync(crew, path, photo, 0, half));
        Assert.Equal(202, await PieceAsync(crew, path, photo, half + 1, photo.Length));
        Assert.Equal((half, false), await ArrivedAsync(crew, path));
        Assert.Equal(422, await PieceAsync(crew, path, photo[..^1], half, photo.Length, said: photo.Length));
        Assert.Equal(200, await PieceAsync(crew, path, photo, half, photo.Length));

        Assert.True((await ArrivedAsync(crew, path)).Complete);
        Assert.Equal(200, await PieceAsync(crew, path, photo, 0, photo.Length));
        Assert.Single((await Station.ReadAsync(host, opened!["id"]!.GetValue<string>()))["reports"]![0]!["photos"]!.AsArray());
        await using var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken);
        Assert.Empty(db.PhotoParts.Where(part => part.Report == new Domain.Defects.ReportId(id)));
    }

    /// <summary>The server died between the last piece and the whole: the last byte, sent once more, is enough.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Photo_WithAllPiecesHereAndNotPutTogether_IsTakenAtTheNextByte(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var crew = await host.ClientForAsync("crew");
        var id = NewId.At(host.Clock.GetCurrentInstant());
        var photo = TestPhotos.Png();
        var sha256 = Convert.ToHexStringLower(SHA256.HashData(photo));
        await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, id));
        await using (var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken))
        {
            db.PhotoParts.Add(new Data.Records.PhotoPart(new Domain.Defects.ReportId(id), sha256, 0, photo, host.Clock.GetCurrentInstant()));
            await db.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        Assert.Equal(200, await PieceAsync(crew, $"/api/v1/reports/{id}/photos/{sha256}", photo, photo.Length - 1, photo.Length));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Photo_WhosePiecesDoNotMakeIt_BeginsAnew(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var crew = await host.ClientForAsync("crew");
        var id = NewId.At(host.Clock.GetCurrentInstant());
        await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, id));
        var path = $"/api/v1/reports/{id}/photos/{new string('a', 64)}";

        Assert.Equal(202, await PieceAsync(crew, path, TestPhotos.Jpeg(), 0, TestPhotos.Jpeg().Length));

        Assert.Equal((0, false), await ArrivedAsync(crew, path));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Report_OfWhatIsKnown_IsAddedToIt_AndOpensItsOwnOnceThatIsClosed(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var crew = await host.ClientForAsync("crew");
        var known = await Station.OpenAsync(host, position: "K-2");

        var (status, body, _) = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Adding(host, known, leak: "leaking"));
        Assert.Equal((201, known), (status, body!["id"]!.GetValue<string>()));
        var item = await Station.ReadAsync(host, known);
        Assert.Equal((2, "leaking"), (item["reports"]!.AsArray().Count, item["leak"]!.GetValue<string>()));
        Assert.Contains(item["story"]!.AsArray(), line => line!["kind"]!.GetValue<string>() == "report.added");

        // On another fixture than it says, or once that one is gone, it stands by itself.
        var elsewhere = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Adding(host, known, position: "K-1"));
        Assert.NotEqual(known, elsewhere.Body!["id"]!.GetValue<string>());
        await Station.MustAsync(host, "cert", known, "error", new { reason = "test", log = Station.Log(host.Clock.GetCurrentInstant(), "9") });
        var later = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Adding(host, known));
        Assert.NotEqual(known, later.Body!["id"]!.GetValue<string>());
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Reporter_SeesWhatBecameOfIt(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var defect = await Station.WorkDoneAsync(host);
        await Station.MustAsync(host, "cert", defect, "rectification/release", new { outcome = "rectified", log = Station.Log(host.Clock.GetCurrentInstant(), "2"), signingCode = SmallFleet.SigningCode });

        var mine = (await (await host.ClientForAsync("crew")).ReadAsync("/api/v1/reports/mine"))[0]!;

        Assert.Equal(("closed", "rectified", "QQAA", "grounds", "Strainer of sink 1"), (Text(mine, "state"), Text(mine, "closure"), Text(mine, "station"), Text(mine, "found"), Text(mine, "foundAt")));
        Assert.DoesNotContain((await (await host.ClientForAsync("crew.b")).ReadAsync("/api/v1/reports/mine")).AsArray(), report => Text(report!, "reference") == Text(mine, "reference"));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Cabin_ShowsWhatIsCarriedWithItsPlacardAndTheEngineersNote(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        await Station.DeferredAsync(host, tail: "QQ-TSB");
        var engineer = await host.ClientForAsync("engineer");
        Assert.Equal(200, (await engineer.SendAsync(HttpMethod.Put, "/api/v1/layouts/T1/crew-note", new { id = NewId.At(host.Clock.GetCurrentInstant()), area = "Aft", words = "No milk." })).Status);
        Assert.Equal(422, (await engineer.SendAsync(HttpMethod.Put, "/api/v1/layouts/T1/crew-note", new { id = NewId.At(host.Clock.GetCurrentInstant()), area = "Attic", words = "x" })).Status);
        var crew = await host.ClientForAsync("crew");

        var state = (await crew.ReadAsync("/api/v1/cabin/QQ-TSB"))["fixtures"]!.AsArray().Single()!;
        var known = state["known"]![0]!;
        Assert.Equal(("K-1", "asPlacarded", "SINK INOPERATIVE", "above the sink"), (Text(state, "position"), Text(state, "use"), Text(known, "placard"), Text(known, "placardWhere")));
        Assert.Equal("Galley crew told.", known["conditions"]![0]!.GetValue<string>());
        var aft = (await crew.ReadAsync("/api/v1/cabin"))["layouts"]![0]!["areas"]!.AsArray().Single(area => Text(area!, "name") == "Aft")!;
        Assert.Equal("No milk.", Text(aft, "note"));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Follower_OfATail_IsToldOfAReportOnce_AndNotOfTheirOwn_OrOfWhatIsClosed(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        host.Clock.AdvanceSeconds(1);

        // Closed before anybody follows, at the same instant: the program's own round, which may come between any two calls, cannot tell of it first.
        var error = await Station.ReportedAsync(host, "QQ-TSC", "T-A");
        await Station.MustAsync(host, "lead.b", error, "error", new { reason = "Pressed by mistake." });
        foreach (var who in new[] { "lead", "crew" })
        {
            Assert.Equal(200, (await (await host.ClientForAsync(who)).SendAsync(HttpMethod.Post, "/api/v1/follows", new { id = NewId.At(host.Clock.GetCurrentInstant()), leadHours = Array.Empty<int>(), reports = true, tail = "QQ-TSC" })).Status);
        }

        await Station.ReportedAsync(host, "QQ-TSC");
        var maker = host.Services.GetRequiredService<Features.Warnings.WarningMaker>();
        await maker.RunAsync(TestContext.Current.CancellationToken);
        await maker.RunAsync(TestContext.Current.CancellationToken);

        Assert.Contains("QQ-TSC Aft galley sink 1: drains slowly", Assert.Single((await (await host.ClientForAsync("lead")).ReadAsync("/api/v1/warnings")).AsArray())!["words"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Empty((await (await host.ClientForAsync("crew")).ReadAsync("/api/v1/warnings")).AsArray());
    }

    /// <summary>Ten thousand bodies, each a report that was damaged somewhere: never our fault (500), and never taken for what it is not.</summary>
    [Fact]
    public async Task Body_DamagedAnywhere_IsNeverA500()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var crew = await host.ClientForAsync("crew");
        var dice = new Random(20261125);
        var answers = new Dictionary<int, int>();
        for (var round = 0; round < 10_000; round++)
        {
            var body = Damage.Make(Damage.SoundReport(host), dice);
            using var content = new ByteArrayContent(body);
            content.Headers.ContentType = new MediaTypeHeaderValue(dice.Next(50) == 0 ? "text/plain" : "application/json");
            using var answer = await crew.PostAsync(new Uri("/api/v1/reports", UriKind.Relative), content, TestContext.Current.CancellationToken);
            answers[(int)answer.StatusCode] = answers.GetValueOrDefault((int)answer.StatusCode) + 1;
            Assert.True((int)answer.StatusCode < 500, $"{(int)answer.StatusCode} in round {round}: {System.Text.Encoding.UTF8.GetString(body)}");
        }

        // The damage is of every kind: some bodies still are reports, some are refused by a rule, some cannot be read.
        Assert.True(answers.GetValueOrDefault(201) > 100 && answers.GetValueOrDefault(422) > 100 && answers.GetValueOrDefault(400) > 1000, string.Join(", ", answers));
    }

    private static object Adding(DrainboardHost host, string known, string position = "K-2", string leak = "noneSeen") =>
        new { id = NewId.At(host.Clock.GetCurrentInstant()), tail = "QQ-TSA", position, symptom = "drainsSlowly", leak, leakWhere = leak == "leaking" ? "trap" : null, seenAt = Station.Iso(host.Clock.GetCurrentInstant()), addTo = known };

    private static string? Text(JsonNode node, string name) => node[name]?.GetValue<string>();

    private static async Task<int> PieceAsync(HttpClient client, string path, byte[] photo, int from, int to, int? said = null)
    {
        var total = said ?? photo.Length;
        using var content = new ByteArrayContent(photo[from..Math.Min(to, photo.Length)]);
        content.Headers.ContentRange = new ContentRangeHeaderValue(from, to - 1, total);
        using var answer = await client.PutAsync(new Uri(path, UriKind.Relative), content);
        return (int)answer.StatusCode;
    }

    private static async Task<(int Received, bool Complete)> ArrivedAsync(HttpClient client, string path)
    {
        var arrival = await client.ReadAsync(path);
        return (arrival["received"]!.GetValue<int>(), arrival["complete"]!.GetValue<bool>());
    }
}
