using System.Globalization;
using Drainboard.Domain;
using Drainboard.Testing;

namespace Drainboard.Browser.Tests;

/// <summary>Defects at a point of their life, made through the API.</summary>
internal static class Situations
{
    public static async Task<string> OpenAsync(DrainboardHost host, string leak = "noneSeen", string position = "K-1")
    {
        var crew = await host.ClientForAsync("crew");
        var now = Iso(host);
        var (_, body, _) = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", new { id = NewId.At(host.Clock.GetCurrentInstant()), tail = "QQ-TSA", position, symptom = "drainsSlowly", leak, leakWhere = leak == "leaking" ? "under the sink" : null, seenAt = now });
        var defect = body!["id"]!.GetValue<string>();
        await ActAsync(host, "tech", defect, "sorting", new { symptom = "drainsSlowly", leak, leakWhere = leak == "leaking" ? "under the sink" : null, log = new { book = "technical", page = "0412", line = "3", loggedAt = now } });
        return defect;
    }

    /// <summary>The address of the defect that the newest report opened.</summary>
    public static async Task<string> NewestAsync(DrainboardHost host) =>
        $"/defects/{(await (await host.ClientForAsync("tech")).ReadAsync("/api/v1/defects"))["lines"]![0]!["id"]!.GetValue<string>()}";

    /// <summary>Waits until so many live pages stand: each is followed by itself and by the bar above it, and the warnings follow too.</summary>
    public static async Task WaitForPagesAsync(DrainboardHost host, int pages)
    {
        var feed = (Web.Features.Live.ChangeFeed)host.Services.GetService(typeof(Web.Features.Live.ChangeFeed))!;
        for (var tries = 0; feed.Listeners < (2 * pages) + 1 && tries < 400; tries++)
        {
            await Task.Delay(50, TestContext.Current.CancellationToken);
        }

        Assert.True(feed.Listeners >= (2 * pages) + 1, "The pages' circuits did not come up.");
    }

    /// <summary>A planned check of every fixture of a kind, at every stay.</summary>
    public static async Task PlanCheckAsync(DrainboardHost host, string code, string title = "Masts clean", string kind = "drainMast") =>
        Assert.Equal(200, (await (await host.ClientForAsync("admin")).SendAsync(HttpMethod.Put, $"/api/v1/planned-checks/{code}", new { id = NewId.At(host.Clock.GetCurrentInstant()), terms = new { title, look = "Clean and undamaged", kind, place = kind == "drainMast" ? "outside" : "galley", everyDays = 0, minutes = 1, manual = "TEST-LC 1", caution = "Never touch a heated mast." } }, ifNoneMatch: true)).Status);

    public static async Task<string> WorkDoneAsync(DrainboardHost host)
    {
        var defect = await OpenAsync(host);
        await ActAsync(host, "tech", defect, "rectification", new { id = NewId.At(host.Clock.GetCurrentInstant()), found = "grounds", foundAt = "S-1", manualReference = "TEST-AMM", steps = new[] { "Cleaned." }, completedAt = Iso(host), opsCheck = new { passed = true }, leakCheck = new { passed = true } });
        return defect;
    }

    public static async Task ReleasedAsync(DrainboardHost host) =>
        await ActAsync(host, "cert", await WorkDoneAsync(host), "rectification/release", new { outcome = "rectified", log = new { book = "technical", page = "0412", line = "4", loggedAt = Iso(host) }, signingCode = SmallFleet.SigningCode });

    public static async Task PublishCardAsync(DrainboardHost host, string code, bool quick)
    {
        var (status, body, _) = await (await host.ClientForAsync("admin")).SendAsync(HttpMethod.Put, $"/api/v1/work-cards/{code}", new
        {
            id = NewId.At(host.Clock.GetCurrentInstant()),
            title = quick ? "Clear a sink strainer" : "Clear a strainer step by step",
            manualReference = "TEST-AMM 38-31",
            kinds = new[] { "galleySink" },
            families = quick ? new[] { "draining" } : [],
            hasShortForm = quick,
            steps = new object[]
            {
                new { key = "open", words = "Open the strainer.", caution = "Hot and soiled water.", disturbs = new { kind = "cap", words = "Strainer cap" } },
                new { key = "close", words = "Close the strainer hand tight.", secondPerson = !quick, restores = "open" },
                quick ? new { key = "rinse", words = "Run warm water through." } : new { key = "warm", words = "Measure the water.", check = "measurement", measure = new { unit = "°C", low = 35, high = 43 } },
                quick ? new { key = "tidy", words = "Take the cloth out." } : new { key = "photo", words = "Photograph it.", check = "photo" },
                new { key = "ops", words = "It runs off.", check = "opsCheck" },
                new { key = "leak", words = "It is dry.", check = "leakCheck" },
            },
        }, ifNoneMatch: true);
        Assert.True(status == 200, $"{status} {body}");
    }

    public static async Task StartAsync(DrainboardHost host, string defect, string card)
    {
        var (status, body, _) = await (await host.ClientForAsync("tech")).SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/job", new { id = NewId.At(host.Clock.GetCurrentInstant()), card });
        Assert.True(status == 200, $"{status} {body}");
    }

    /// <summary>A tail under a drinking water programme whose last routine set was coliform-positive.</summary>
    public static async Task ColiformAsync(DrainboardHost host)
    {
        var (engineer, tech, control, now) = (await host.ClientForAsync("engineer"), await host.ClientForAsync("tech"), await host.ClientForAsync("control"), host.Clock.GetCurrentInstant());
        var terms = new { title = "Quarterly", underSubpartX = true, disinfectEveryDays = 91, sampleEveryDays = 365, inspectEveryMonths = 60, canShutOff = false, manual = "TEST-WATER", source = "Test operator", items = new[] { new { key = "uv-lamp", name = "UV lamp", everyDays = 365 } } };
        await OkAsync(engineer.SendAsync(HttpMethod.Put, "/api/v1/water-programmes/quarterly", new { id = NewId.At(now), terms }, ifNoneMatch: true));
        await OkAsync(engineer.SendAsync(HttpMethod.Post, "/api/v1/tails/QQ-TSA/water/programme", new { id = NewId.At(now), programme = "quarterly" }));
        var set = NewId.At(now);
        await OkAsync(tech.SendAsync(HttpMethod.Post, "/api/v1/tails/QQ-TSA/water/samples", new { id = set, purpose = "routine", taps = new[] { "B-A", "K-1" }, collectedAt = Iso(host) }));
        await OkAsync(control.SendAsync(HttpMethod.Post, $"/api/v1/tails/QQ-TSA/water/samples/{set}/results", new { toldAt = Iso(host), results = new[] { new { sample = 1, analysisStartedAt = Iso(host), coliform = true, eColi = false } } }, "\"0\""));
    }

    private static async Task OkAsync(Task<(int Status, System.Text.Json.Nodes.JsonNode? Body, string? ETag)> asked)
    {
        var (status, body, _) = await asked;
        Assert.True(status is 200 or 201, $"{status} {body}");
    }

    public static async Task PourAsync(DrainboardHost host, string position, double seconds, bool reference = false)
    {
        var (status, body, _) = await (await host.ClientForAsync("tech")).SendAsync(HttpMethod.Post, $"/api/v1/tails/QQ-TSA/fixtures/{position}/pours", new { id = NewId.At(host.Clock.GetCurrentInstant()), seconds, run = seconds < 25 ? "freely" : "slowly", pouredAt = Iso(host), confirmed = new[] { "ground", "area", "discharge" }, fromMillimetres = 120, toMillimetres = 20, cleanReference = reference });
        Assert.True(status == 201, $"{status} {body}");
    }

    public static async Task<string> DeferredAsync(DrainboardHost host)
    {
        var defect = await OpenAsync(host);
        var basis = (await (await host.ClientForAsync("tech")).ReadAsync("/api/v1/bases")).AsArray().Single(one => one!["code"]!.GetValue<string>() == "38-01")!["id"]!.GetValue<string>();
        await ActAsync(host, "tech", defect, "deferral", new { id = NewId.At(host.Clock.GetCurrentInstant()), basis, conditionsDone = new[] { 0, 1 }, placardFitted = true, placardWhere = "above the sink" });
        await ActAsync(host, "control", defect, "deferral/authorisation", new { reference = "MC-1" });
        await ActAsync(host, "cert", defect, "deferral/certification", new { signingCode = SmallFleet.SigningCode });
        return defect;
    }

    public static async Task ActAsync(DrainboardHost host, string who, string defect, string act, object body)
    {
        var (status, answer, _) = await (await host.ClientForAsync(who)).ActAsync(defect, act, body);
        Assert.True(status == 200, $"{act}: {status} {answer}");
    }

    private static string Iso(DrainboardHost host) => host.Clock.GetCurrentInstant().ToString("uuuu-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
}
