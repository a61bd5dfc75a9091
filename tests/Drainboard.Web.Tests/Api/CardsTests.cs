using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Domain.Records;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Api;

/// <summary>Work cards over the API: published, begun, done by two at once, changed meanwhile, finished and signed.</summary>
public sealed class CardsTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Card_FromStartToRelease_KeepsEveryStepAndAsksForWhatIsMissing(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var code = await PublishAsync(host);
        var defect = await Station.OpenAsync(host);
        var tech = await host.ClientForAsync("tech");
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job", new { id = New(host), card = code });

        var job = await tech.ReadAsync($"/api/v1/defects/{defect}/job");
        Assert.Equal("Tech Person", job["startedBy"]!.GetValue<string>());
        Assert.Equal("Tech Person", (await Station.ReadAsync(host, defect))["holder"]!["name"]!.GetValue<string>());
        await StepAsync(host, defect, "open");
        Assert.Equal("steps-open", await RefusedAsync(tech, $"/api/v1/defects/{defect}/job/completion", Completion(host)));
        Assert.Equal("no-value", await RefusedAsync(tech, $"/api/v1/defects/{defect}/job/steps/warm", new { id = New(host) }));
        await StepAsync(host, defect, "warm", 50);
        await StepAsync(host, defect, "close");
        await StepAsync(host, defect, "ops");
        await StepAsync(host, defect, "leak");
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job/completion", Completion(host));

        // Not inspected, and out of limits: neither can be signed as rectified.
        Assert.Equal("out-of-limits", await ReleaseAsync(host, defect, "rectified"));
        Assert.Equal("own-work", await RefusedAsync(tech, $"/api/v1/defects/{defect}/job/inspections/close", new { id = New(host), signingCode = SmallFleet.SigningCode }));
        Assert.Null(await ReleaseAsync(host, defect, "notRectified"));
        var item = await Station.ReadAsync(host, defect);
        Assert.Contains("NOT RECTIFIED", item["logText"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Contains("OUT OF LIMITS (35 to 43 °C), 50 °C", item["logText"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Contains("Signed, no release", item["logText"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Equal(("open", "notRectified"), (item["state"]!.GetValue<string>(), item["work"]![0]!["outcome"]!.GetValue<string>()));

        host.Clock.AdvanceMinutes(1);

        // Done again within limits; the certifying technician inspects and signs.
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job", new { id = New(host), card = code });
        foreach (var step in new[] { "open", "close", "ops", "leak" })
        {
            await StepAsync(host, defect, step);
        }

        await StepAsync(host, defect, "warm", 41);
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job/completion", Completion(host));
        Assert.Equal("not-inspected", await ReleaseAsync(host, defect, "rectified"));
        await DoneAsync(await host.ClientForAsync("cert"), $"/api/v1/defects/{defect}/job/inspections/close", new { id = New(host), signingCode = SmallFleet.SigningCode });
        Assert.Null(await ReleaseAsync(host, defect, "rectified"));

        item = await Station.ReadAsync(host, defect);
        Assert.Equal("closed", item["state"]!.GetValue<string>());
        Assert.Contains("Required inspection, Close the strainer: Cert Person, certifying licence C-200", item["logText"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Contains("Released, rectified,", item["logText"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Contains("Measure the water: within limits, 41 °C.", item["work"]!.AsArray().Single(work => work!["outcome"]!.GetValue<string>() == "rectified")!["steps"]!.AsArray().Select(step => step!.GetValue<string>()));
        Assert.True((await host.Services.GetRequiredService<RecordQuery>().VerifyAsync(TestContext.Current.CancellationToken)).Whole);
    }

    /// <summary>Ten people tick at the same moment, two of them each the same step: nobody is told to start over, and each step is there once.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Steps_TickedByManyAtOnce_AreEachThereOnce(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var code = await PublishAsync(host);
        var defect = await Station.OpenAsync(host);
        await DoneAsync(await host.ClientForAsync("tech"), $"/api/v1/defects/{defect}/job", new { id = New(host), card = code });
        var (tech, cert) = (await host.ClientForAsync("tech"), await host.ClientForAsync("cert"));

        var answers = await Task.WhenAll(new[] { "open", "close", "warm", "ops", "leak" }.SelectMany(step => new[] { tech, cert }.Select(client =>
            client.SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/job/steps/{step}", step == "warm" ? new { id = New(host), value = 40 } : (object)new { id = New(host) }))));

        Assert.All(answers, answer => Assert.Equal(200, answer.Status));
        var stop = TestContext.Current.CancellationToken;
        await using var db = await host.Db.CreateDbContextAsync(stop);
        var job = await db.Jobs.SingleAsync(job => job.Defect == new Domain.Defects.DefectId(Guid.Parse(defect)), stop);
        Assert.Equal(5, await db.JobSteps.CountAsync(step => step.Job == job.Id, stop));
        Assert.Equal(5, await db.Record.CountAsync(entry => entry.Subject == Guid.Parse(defect) && entry.Kind == "job.step", stop));
    }

    [Fact]
    public async Task SameWishTwice_CountsOnce()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var code = await PublishAsync(host);
        var defect = await Station.OpenAsync(host);
        var tech = await host.ClientForAsync("tech");
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job", new { id = New(host), card = code });
        var wish = new { id = New(host), value = 41 };

        await DoneAsync(tech, $"/api/v1/defects/{defect}/job/steps/warm", wish);
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job/steps/warm", wish);

        Assert.Equal(1, (await tech.ReadAsync($"/api/v1/defects/{defect}/job"))["steps"]!.AsArray().Single(step => step!["key"]!.GetValue<string>() == "warm")!["times"]!.GetValue<int>());
    }

    [Fact]
    public async Task CardPublishedMeanwhile_IsSaidAtTheEnd_AndGoneOnWith()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var code = await PublishAsync(host);
        var defect = await Station.OpenAsync(host);
        var tech = await host.ClientForAsync("tech");
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job", new { id = New(host), card = code });
        foreach (var step in new[] { "open", "close", "ops", "leak" })
        {
            await StepAsync(host, defect, step);
        }

        await StepAsync(host, defect, "warm", 41);
        await PublishAsync(host, code, 1, "Measure the water at the tap.");

        Assert.Equal("card-changed", await RefusedAsync(tech, $"/api/v1/defects/{defect}/job/completion", Completion(host)));
        var job = await tech.ReadAsync($"/api/v1/defects/{defect}/job");
        Assert.Equal(2, job["newerVersion"]!.GetValue<int>());
        Assert.Equal(["Changed: Measure the water at the tap."], job["changes"]!.AsArray().Select(words => words!.GetValue<string>()));
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job/version", new { id = New(host) });
        Assert.Equal("steps-open", await RefusedAsync(tech, $"/api/v1/defects/{defect}/job/completion", Completion(host)));
        await StepAsync(host, defect, "warm", 42);
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job/completion", Completion(host));
    }

    [Fact]
    public async Task SomethingDisturbed_HoldsTheReleaseAndTheDeferral()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.OpenAsync(host, "QQ-TSB");
        var tech = await host.ClientForAsync("tech");
        var thing = New(host);
        await DoneAsync(tech, $"/api/v1/defects/{defect}/disturbed", new { id = thing, kind = "valve", words = "Shut-off under sink 1" });
        await Station.MustAsync(host, "tech", defect, "deferral", await Station.ProposalAsync(host));
        Assert.Equal("still-disturbed", (await (await host.ClientForAsync("control")).ActAsync(defect, "deferral/authorisation", new { reference = "MC-1" })).Body!["refusal"]!.GetValue<string>());

        var (status, body, _) = await (await host.ClientForAsync("cert")).ActAsync(defect, "deferral/certification", new { signingCode = SmallFleet.SigningCode });
        Assert.Equal((422, "still-disturbed"), (status, body!["refusal"]!.GetValue<string>()));
        await DoneAsync(tech, $"/api/v1/defects/{defect}/disturbed/{thing}", new { id = New(host), restored = false, words = "Shut and tagged" });
        await Station.MustAsync(host, "control", defect, "deferral/authorisation", new { reference = "MC-1" });
        await Station.MustAsync(host, "cert", defect, "deferral/certification", new { signingCode = SmallFleet.SigningCode });

        // Rectified later: now it is opened again first.
        await Station.MustAsync(host, "tech", defect, "rectification", Station.Work(host));
        Assert.Equal("still-disturbed", await ReleaseAsync(host, defect, "rectified"));
        await DoneAsync(tech, $"/api/v1/defects/{defect}/disturbed/{thing}", new { id = New(host), restored = true });
        Assert.Null(await ReleaseAsync(host, defect, "rectified"));
    }

    /// <summary>Telling the work in own words is no way round a card: not while it runs, and not round its readings and inspections once it was left.</summary>
    [Fact]
    public async Task WorkInOwnWords_IsNoWayRoundACard()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var code = await PublishAsync(host);
        var defect = await Station.OpenAsync(host);
        var tech = await host.ClientForAsync("tech");
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job", new { id = New(host), card = code });
        await StepAsync(host, defect, "close");
        await StepAsync(host, defect, "warm", 50);

        Assert.Equal("job-runs", (await tech.ActAsync(defect, "rectification", Station.Work(host))).Body!["refusal"]!.GetValue<string>());
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job/leaving", new { id = New(host), reason = "No time." });
        await Station.MustAsync(host, "tech", defect, "rectification", Station.Work(host));
        Assert.Equal("out-of-limits", await ReleaseAsync(host, defect, "rectified"));
        Assert.Null(await ReleaseAsync(host, defect, "notRectified"));
        Assert.Contains("Required inspection not made: Close the strainer.", (await Station.ReadAsync(host, defect))["work"]![0]!["openTasks"]!.GetValue<string>(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Completion_BeforeTheLastStep_IsRefused_AndLeftOutIsNow()
    {
        await using var host = (await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite)).Host!;
        var code = await PublishAsync(host, quick: true);
        var defect = await Station.OpenAsync(host);
        var tech = await host.ClientForAsync("tech");
        var opened = host.Clock.GetCurrentInstant();
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job", new { id = New(host), card = code });
        host.Clock.AdvanceMinutes(25);
        await StepAsync(host, defect, "ops");
        await StepAsync(host, defect, "leak");

        Assert.Equal("completed-too-early", await RefusedAsync(tech, $"/api/v1/defects/{defect}/job/completion", new { id = New(host), found = "grounds", foundAt = "S-1", completedAt = Station.Iso(opened) }));
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job/completion", new { id = New(host), found = "grounds", foundAt = "S-1", doneAt = Station.Iso(opened) });
        Assert.Equal(Station.Iso(host.Clock.GetCurrentInstant()), (await Station.ReadAsync(host, defect))["work"]![0]!["completedAt"]!.GetValue<string>());
    }

    [Fact]
    public async Task ShortForm_AfterABadStep_IsASurprise()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var code = await PublishAsync(host, quick: true);
        var defect = await Station.OpenAsync(host);
        var tech = await host.ClientForAsync("tech");
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job", new { id = New(host), card = code });
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job/steps/leak", new { id = New(host), result = "bad", words = "drips at the union" });

        Assert.Equal("surprise", await RefusedAsync(tech, $"/api/v1/defects/{defect}/job/completion", new { id = New(host), found = "grounds", foundAt = "S-1", shortForm = new { refitted = true, flows = true, dry = true } }));
    }

    [Fact]
    public async Task Closing_WithSomethingDisturbedOrACardRunning_IsRefused()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var (defect, other) = (await Station.OpenAsync(host), await Station.OpenAsync(host));
        var tech = await host.ClientForAsync("tech");
        var thing = New(host);
        await DoneAsync(tech, $"/api/v1/defects/{defect}/disturbed", new { id = thing, kind = "breaker", words = "Galley 1" });
        var log = Station.Log(host.Clock.GetCurrentInstant(), "4");

        Assert.Equal("still-disturbed", (await tech.ActAsync(defect, "merger", new { into = other, log })).Body!["refusal"]!.GetValue<string>());
        await DoneAsync(tech, $"/api/v1/defects/{defect}/disturbed/{thing}", new { id = New(host), restored = true });
        var code = await PublishAsync(host);
        await DoneAsync(tech, $"/api/v1/defects/{defect}/job", new { id = New(host), card = code });
        Assert.Equal("job-runs", (await tech.ActAsync(defect, "merger", new { into = other, log })).Body!["refusal"]!.GetValue<string>());
    }

    /// <summary>145.A.50(f).</summary>
    [Fact]
    public async Task PartWithoutACertificate_HasAClockOfItsOwn_UntilItsCertificateComes()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.OpenAsync(host, "QQ-TSB");
        var tech = await host.ClientForAsync("tech");
        var part = New(host);
        await DoneAsync(tech, $"/api/v1/defects/{defect}/parts", new { id = part, state = "fitted", name = "Flush valve", partNumber = "FV-1", batch = "B7" });

        var clock = (await Station.ReadAsync(host, defect))["parts"]![0]!["clock"]!;
        Assert.Equal(0, clock["hoursUsed"]!.GetValue<decimal>());
        await DoneAsync(tech, $"/api/v1/defects/{defect}/parts/{part}", new { id = New(host), state = "fitted", name = "Flush valve", partNumber = "FV-1", batch = "B7", certificate = "F1-4711" });
        Assert.Null((await Station.ReadAsync(host, defect))["parts"]![0]!["clock"]);
    }

    private static async Task<string> PublishAsync(DrainboardHost host, string? code = null, int? version = null, string measure = "Measure the water.", bool quick = false)
    {
        code ??= $"test-{New(host):N}";
        var body = new
        {
            id = New(host),
            title = "Clear a strainer",
            manualReference = "TEST-AMM 38-31",
            kinds = new[] { "galleySink" },
            families = new[] { "draining" },
            hasShortForm = quick,
            steps = quick ? [new { key = "ops", words = "It runs off.", check = "opsCheck" }, new { key = "leak", words = "It is dry.", check = "leakCheck" }] : new object[]
            {
                new { key = "open", words = "Open the strainer.", disturbs = new { kind = "cap", words = "Strainer cap" } },
                new { key = "close", words = "Close the strainer.", secondPerson = true, restores = "open" },
                new { key = "warm", words = measure, check = "measurement", measure = new { unit = "°C", low = 35, high = 43 } },
                new { key = "ops", words = "It runs off.", check = "opsCheck" },
                new { key = "leak", words = "It is dry.", check = "leakCheck" },
            },
        };
        var (status, answer, _) = await (await host.ClientForAsync("admin")).SendAsync(HttpMethod.Put, $"/api/v1/work-cards/{code}", body, version is { } seen ? $"\"{seen}\"" : null, ifNoneMatch: version is null);
        Assert.True(status == 200, $"{status} {answer}");
        return code;
    }

    private static Task StepAsync(DrainboardHost host, string defect, string step, decimal? value = null) => DoAsync(host, $"/api/v1/defects/{defect}/job/steps/{step}", value is null ? new { id = New(host) } : new { id = New(host), value });

    private static async Task DoAsync(DrainboardHost host, string path, object body) => await DoneAsync(await host.ClientForAsync("tech"), path, body);

    private static async Task DoneAsync(HttpClient client, string path, object body)
    {
        var (status, answer, _) = await client.SendAsync(HttpMethod.Post, path, body);
        Assert.True(status == 200, $"{path}: {status} {answer}");
    }

    private static async Task<string?> RefusedAsync(HttpClient client, string path, object body)
    {
        var (status, answer, _) = await client.SendAsync(HttpMethod.Post, path, body);
        return status == 422 ? answer!["refusal"]!.GetValue<string>() : $"{status} {answer}";
    }

    private static async Task<string?> ReleaseAsync(DrainboardHost host, string defect, string outcome)
    {
        var (status, body, _) = await (await host.ClientForAsync("cert")).ActAsync(defect, "rectification/release", new { outcome, log = Station.Log(host.Clock.GetCurrentInstant()), signingCode = SmallFleet.SigningCode });
        return status == 200 ? null : body!["refusal"]?.GetValue<string>() ?? $"{status} {body}";
    }

    private static object Completion(DrainboardHost host) => new { id = New(host), found = "grounds", foundAt = "S-1", minutes = 9 };

    private static Guid New(DrainboardHost host) => NewId.At(host.Clock.GetCurrentInstant());
}
