using System.Text.RegularExpressions;
using Drainboard.Domain.Accounts;
using Drainboard.Testing;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Api;

/// <summary>Every endpoint of the API, and how to ask it: an address with the small fleet's names in it, and a body that can be read.</summary>
internal static partial class EveryEndpoint
{
    public static IEnumerable<RouteEndpoint> Endpoints(DrainboardHost host) =>
        host.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>().Where(endpoint => endpoint.Metadata.GetMetadata<ActOf>() is not null);

    public static async Task<int> AskAsync(DrainboardHost host, RouteEndpoint endpoint, string who, string defect, params ApiScope[] scopes)
    {
        var client = await host.ClientForAsync(who, scopes);
        var body = Method(endpoint) == "GET" ? null : await BodyAsync(host, endpoint);
        return (await client.SendAsync(new HttpMethod(Method(endpoint)), Fill(endpoint, defect), body, "\"1\"")).Status;
    }

    /// <summary>A body that can be read, so that the question reaches the place where the station is checked.</summary>
    public static async Task<object?> BodyAsync(DrainboardHost host, RouteEndpoint endpoint)
    {
        var now = host.Clock.GetCurrentInstant();
        return endpoint.Metadata.GetRequiredMetadata<ActOf>().Act switch
        {
            Act.AcknowledgeSheet => new { id = Domain.NewId.At(now), signer = "pilotInCommand", hash = "" },
            Act.Follow => new { id = Domain.NewId.At(now), leadHours = new[] { 24 } },
            Act.Report => Station.Report(host, tail: "QQ-TSA"),
            Act.Sort => new { symptom = "smell", leak = "noneSeen" },
            Act.Merge => new { into = Guid.Empty },
            Act.AnswerLeak => new { leak = "didNotLook" },
            Act.ProposeDeferral => await Station.ProposalAsync(host),
            Act.PrepareDeferral => new { conditionsDone = Array.Empty<int>(), placardFitted = false },
            Act.AuthoriseDeferral => new { reference = "" },
            Act.CertifyDeferral => new { },
            Act.ExtendDeferral => new { days = 1, reason = "x" },
            Act.EndDeferral or Act.ReturnWork or Act.CloseInError or Act.WithdrawPour => new { reason = "" },
            Act.RecordWork when endpoint.RoutePattern.RawText!.EndsWith("completion", StringComparison.Ordinal) => new { id = Domain.NewId.At(now), found = "grounds", foundAt = "S-1" },
            Act.RecordWork => Station.Work(host),
            Act.SetPin => new { id = Domain.NewId.At(now), password = "x", pin = "x" },
            Act.ManageDevices => new { id = Domain.NewId.At(now), name = "" },
            Act.NoteForCrew => new { id = Domain.NewId.At(now), area = "", words = "" },
            Act.SetPassword => new { id = Domain.NewId.At(now), current = "x", password = "x" },
            Act.SetSigningCode => new { id = Domain.NewId.At(now), password = "x", code = "x" },
            Act.TakeItem => new { id = Domain.NewId.At(now), have = true },
            Act.DoJob => endpoint.RoutePattern.RawText!.Split('/')[^1] switch { "job" => new { id = Domain.NewId.At(now), card = "none" }, "leaving" => new { id = Domain.NewId.At(now), reason = "" }, _ => (object)new { id = Domain.NewId.At(now) } },
            Act.HandOver => endpoint.RoutePattern.RawText!.EndsWith("handovers", StringComparison.Ordinal) ? new { id = Domain.NewId.At(now), hash = "" } : (object)new { id = Domain.NewId.At(now) },
            Act.InspectStep => new { id = Domain.NewId.At(now) },
            Act.NoteDisturbed => endpoint.RoutePattern.RawText!.EndsWith("disturbed", StringComparison.Ordinal) ? new { id = Domain.NewId.At(now), kind = "valve", words = "" } : (object)new { id = Domain.NewId.At(now), restored = true },
            Act.NotePart => new { id = Domain.NewId.At(now), state = "awaited", name = "" },
            Act.ManageCards => new { id = Domain.NewId.At(now), title = "", manualReference = "", kinds = Array.Empty<string>(), steps = Array.Empty<object>() },
            Act.RecordChecks => new { },
            Act.RecordPour => new { id = Domain.NewId.At(now), seconds = 0, run = "freely", pouredAt = Station.Iso(now), confirmed = Array.Empty<string>() },
            Act.ManageLayouts => new { name = "", seats = 0, fixtures = Array.Empty<object>(), connections = Array.Empty<object>() },
            Act.ChangeAdvice => new { link = 0 },
            Act.ChangeWaiting => endpoint.RoutePattern.RawText!.EndsWith("minimums", StringComparison.Ordinal) ? new[] { new { layout = "", overHours = -1, fewest = 0, accessible = false, forbids = true } } : (object)new { peakFactor = 0 },
            Act.ManageWater => endpoint.RoutePattern.RawText!.EndsWith("/programme", StringComparison.Ordinal) ? new { id = Domain.NewId.At(now), programme = "none" } : (object)new { id = Domain.NewId.At(now), terms = new { title = "", underSubpartX = false, disinfectEveryDays = 1, sampleEveryDays = 1, inspectEveryMonths = 1, canShutOff = false, manual = "", source = "", items = Array.Empty<object>() } },
            Act.WorkOnWater => endpoint.RoutePattern.RawText!.Split('/')[^1] switch { "deeds" => new { id = Domain.NewId.At(now), kind = "selfInspected", at = Station.Iso(now) }, "samples" => new { id = Domain.NewId.At(now), purpose = "routine", taps = Array.Empty<string>(), collectedAt = Station.Iso(now) }, _ => (object)new { what = "report", at = Station.Iso(now) } },
            Act.JudgeWater => endpoint.RoutePattern.RawText!.Split('/')[^1] switch { "cases" => new { id = Domain.NewId.At(now), kind = "unsafeSource", toldAt = Station.Iso(now), words = "" }, "results" => new { toldAt = Station.Iso(now), results = Array.Empty<object>() }, "way" => new { way = "" }, _ => (object)new { reason = "" } },
            Act.LiftWater => new { },
            Act.RecordServicing => endpoint.RoutePattern.RawText!.EndsWith("uplifts", StringComparison.Ordinal) ? new { id = Domain.NewId.At(now), at = Station.Iso(now), litres = 0, full = false, source = "", capClosed = false, doorClosed = false } : (object)new { id = Domain.NewId.At(now), at = Station.Iso(now), prechargeLitres = 0, capClosed = false, doorClosed = false },
            Act.ChangeTanks => endpoint.RoutePattern.RawText!.StartsWith("/api/v1/layouts", StringComparison.Ordinal) ? new { id = Domain.NewId.At(now), potableLitres = 0, wasteLitres = 0 } : (object)new { risk = 0 },
            Act.DoCheck => endpoint.RoutePattern.RawText!.EndsWith("withdrawal", StringComparison.Ordinal) ? new { reason = "" } : (object)new { id = Domain.NewId.At(now), check = "" },
            Act.TellTemperature => new { id = Domain.NewId.At(now), celsius = 0 },
            Act.ManageChecks => new { id = Domain.NewId.At(now), terms = new { title = "", look = "", kind = (string?)null, place = "outside", everyDays = 0, minutes = 1, manual = "" } },
            Act.ChangeFit => new { goodChance = 0 },
            Act.PlanShift when endpoint.RoutePattern.RawText!.EndsWith("solutions", StringComparison.Ordinal) => new { wish = new { from = "2026-01-26T10:00:00Z", to = "2026-01-26T10:00:00Z", people = Array.Empty<object>() } },
            Act.PlanShift => new { id = Guid.Empty, wish = new { from = "2026-01-26T10:00:00Z", to = "2026-01-26T10:00:00Z", people = Array.Empty<object>() }, assigned = Array.Empty<object>() },
            Act.PlanNetwork when endpoint.RoutePattern.RawText!.EndsWith("solutions", StringComparison.Ordinal) => new { wish = new { days = 0 } },
            Act.PlanNetwork => new { id = Guid.Empty, wish = new { days = 0 }, assigned = Array.Empty<object>() },
            Act.Release => new { outcome = "rectified" },
            Act.Correct => new { words = "" },
            Act.ChangeTurns => new { tail = "QQ-TSC", station = "QQAA", estimatedArrival = Station.Iso(now), estimatedDeparture = Station.Iso(now) },
            Act.Import => new { files = new Dictionary<string, string>(), dry = true },
            Act.ManagePeople => new { id = Guid.Empty, name = "", roles = Array.Empty<string>() },
            Act.ManageKeys => new { id = Guid.Empty, name = "", userName = "", scopes = Array.Empty<string>() },
            Act.ChangeInstallation => new { operatorName = "", mode = "besideLog", policy = "us", repeatRule = "3-in-15-days" },
            Act.ManagePolicies => new { title = "", source = "", days = new { b = 3, c = 10, d = 120 }, timeBase = "utc", excludesDayOfDiscovery = true, calendarStart = "midnight", startsFrom = "logged", countedUnitStart = "deferral", expiryTest = "arrival", extendable = new { a = false, b = true, c = true, d = false }, maxExtensions = 1, maxExtensionDays = (int?)null, notifyWithin = (object?)null, approvalBeforeA = (bool?)null },
            Act.ChangeSectors => new { tail = "QQ-TSC", from = "QQAA", to = "QQBB", offBlock = Station.Iso(now), onBlock = Station.Iso(now), flown = false },
            Act.RecordNotice => new { reference = "" },
            Act.DoCondition => new { condition = 0 },
            Act.WorkOutStandings => null,
            Act.Compute => new { policy = "us", category = "b", recordedAt = Station.Iso(now), asOf = Station.Iso(now) },
            var other => throw new InvalidOperationException($"Say what body {other} takes."),
        };
    }

    public static string Fill(RouteEndpoint endpoint, string defect)
    {
        var path = "/" + endpoint.RoutePattern.RawText!.TrimStart('/')
            .Replace("{id:guid}", defect, StringComparison.Ordinal).Replace("{sha256}", new string('0', 64), StringComparison.Ordinal)
            .Replace("{handover:guid}", defect, StringComparison.Ordinal).Replace("{entry:long}", "1", StringComparison.Ordinal).Replace("{thing:guid}", defect, StringComparison.Ordinal).Replace("{part:guid}", defect, StringComparison.Ordinal).Replace("{registration}", "QQ-TSA", StringComparison.Ordinal).Replace("{position}", "K-1", StringComparison.Ordinal).Replace("{station}", "QQAA", StringComparison.Ordinal).Replace("{key}", "T-A", StringComparison.Ordinal).Replace("{seal:int}", "1", StringComparison.Ordinal);
        return Parameter().Replace(path, "x");
    }

    public static string Method(RouteEndpoint endpoint) => endpoint.Metadata.GetRequiredMetadata<HttpMethodMetadata>().HttpMethods[0];

    public static string Describe(RouteEndpoint endpoint) => $"{endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods[0]} {endpoint.RoutePattern.RawText}";

    [GeneratedRegex(@"\{[^}]+\}")]
    private static partial Regex Parameter();
}
