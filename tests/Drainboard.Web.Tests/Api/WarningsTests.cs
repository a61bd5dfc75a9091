using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Warnings;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;

namespace Drainboard.Web.Tests.Api;

/// <summary>Warnings of clocks that run out, in the program and by mail to a real mail server, each once.</summary>
public sealed class WarningsTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Warning_AtEachLead_IsMadeAndMailedOnceHoweverOftenAProcessStarts(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var host = await hosts.OnAsync(kind);
        await using var sink = new MailSink();
        await GiveAddressAsync(host, "control");
        var control = await host.ClientForAsync("control");
        var follow = await FollowAsync(control, new { id = NewId.At(host.Clock.GetCurrentInstant()), leadHours = new[] { 96, 24, 0 }, byMail = true, tail = "QQ-TSA" });
        var defect = await Station.DeferredAsync(host, "38-02");

        // Inside four days: the first lead, and again after "restarts": nothing new.
        await RunAsync(host, sink, times: 3);
        Assert.Equal("96", await LeadsAsync(host, "control", defect));

        host.Clock.AdvanceHours(24 * 3);
        await RunAsync(host, sink, times: 2);
        host.Clock.AdvanceHours(24);
        await RunAsync(host, sink, times: 2);
        Assert.Equal("96 24 0", await LeadsAsync(host, "control", defect));

        var mine = sink.Messages.Where(message => message.Contains("38-02", StringComparison.Ordinal)).ToArray();
        Assert.Equal(3, mine.Length);
        Assert.Equal(3, mine.Select(message => message.Split('\n').Single(line => line.StartsWith("Message-Id:", StringComparison.OrdinalIgnoreCase))).Distinct().Count());
        Assert.Contains(mine, message => message.Contains("lapsed at", StringComparison.Ordinal));

        await control.SendAsync(HttpMethod.Delete, $"/api/v1/follows/{follow}", null);
        host.Clock.AdvanceHours(-24 * 4);
        Assert.Equal(0, await host.Services.GetRequiredService<WarningMaker>().RunAsync(stop));
    }

    /// <summary>Several processes look at the same moment: one makes it, and one mails it.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Warning_LookedForByManyAtOnce_IsMadeAndMailedOnce(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        await using var sink = new MailSink();
        await GiveAddressAsync(host, "control.b");
        await FollowAsync(await host.ClientForAsync("control.b"), new { id = NewId.At(host.Clock.GetCurrentInstant()), leadHours = new[] { 720 }, byMail = true, tail = "QQ-TSB" });
        var defect = await Station.DeferredAsync(host, "38-01", "QQ-TSB");

        await Task.WhenAll(Enumerable.Range(0, 5).Select(_ => RunAsync(host, sink, 1)));

        Assert.Equal("720", await LeadsAsync(host, "control.b", defect));
        Assert.Single(sink.Messages, message => message.Contains("QQ-TSB", StringComparison.Ordinal) && message.Contains("38-01", StringComparison.Ordinal));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Warning_Seen_IsNoLongerCounted(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var lead = await host.ClientForAsync("lead");
        await FollowAsync(lead, new { id = NewId.At(host.Clock.GetCurrentInstant()), leadHours = new[] { 720 }, station = "QQAA" });
        await Station.DeferredAsync(host, "38-01");
        await host.Services.GetRequiredService<WarningMaker>().RunAsync(TestContext.Current.CancellationToken);
        Assert.Contains((await lead.ReadAsync("/api/v1/warnings")).AsArray(), warning => warning!["seenAt"] is null);

        await lead.SendAsync(HttpMethod.Post, "/api/v1/warnings/seen", new { upTo = Station.Iso(host.Clock.GetCurrentInstant()) });

        Assert.DoesNotContain((await lead.ReadAsync("/api/v1/warnings")).AsArray(), warning => warning!["seenAt"] is null);
    }

    [Theory]
    [InlineData("""{"tail":"QQ-NIX"}""", "unknown-tail-or-station")]
    [InlineData("""{"tail":"QQ-TSA","station":"QQAA"}""", "tail-or-station")]
    [InlineData("""{"byMail":true}""", "no-address")]
    public async Task Follow_WithBadInput_IsRefused(string body, string refusal)
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var wish = System.Text.Json.Nodes.JsonNode.Parse(body)!.AsObject();
        wish["id"] = NewId.At(host.Clock.GetCurrentInstant()).ToString();
        wish["leadHours"] = new System.Text.Json.Nodes.JsonArray(24);

        var (status, answer, _) = await (await host.ClientForAsync("engineer")).SendAsync(HttpMethod.Post, "/api/v1/follows", wish);

        Assert.Equal((422, refusal), (status, answer!["refusal"]!.GetValue<string>()));
    }

    /// <summary>RFC 5545: the UID stays, SEQUENCE grows with each move of the clock, and what has ended is cancelled; a revoked address is dead.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Calendar_OfDueTimes_KeepsItsUidsAndCountsItsChanges(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var control = await host.ClientForAsync("control");
        var id = NewId.At(host.Clock.GetCurrentInstant());
        var (_, made, _) = await control.SendAsync(HttpMethod.Post, "/api/v1/calendar-feeds", new { id, name = "Control desk" });
        var path = made!["path"]!.GetValue<string>();
        using var nobody = host.CreateClient();
        var defect = await Station.DeferredAsync(host);
        var uid = $"{(await Station.ReadAsync(host, defect))["deferral"]!["id"]!.GetValue<string>()}@drainboard";

        var before = await EventAsync(nobody, path, uid);
        await Station.MustAsync(host, "control", defect, "deferral/extension", new { days = 2, reason = "Part on order." });
        var after = await EventAsync(nobody, path, uid);
        await Station.MustAsync(host, "control", defect, "deferral/end", new { reason = "Part came." });
        var ended = await EventAsync(nobody, path, uid);

        Assert.Equal(("1", "20260206T000000Z", "CONFIRMED"), before);
        Assert.Equal(("2", "20260208T000000Z", "CONFIRMED"), after);
        Assert.Equal(("3", "20260208T000000Z", "CANCELLED"), ended);
        await control.SendAsync(HttpMethod.Post, $"/api/v1/calendar-feeds/{id}/revocation", null);
        Assert.Equal(404, (await nobody.SendAsync(HttpMethod.Get, path, null)).Status);
    }

    private static async Task<(string Sequence, string End, string Status)> EventAsync(HttpClient client, string path, string uid)
    {
        var text = await client.GetStringAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
        var calendar = Ical.Net.Calendar.Load(text)!;
        var made = calendar.Events.Single(one => one.Uid == uid);
        return ($"{made.Sequence}", made.End!.AsUtc.ToString("yyyyMMdd'T'HHmmss'Z'", System.Globalization.CultureInfo.InvariantCulture), made.Status!);
    }

    /// <summary>Each time a maker and a mailer of its own, as a process that has just started has.</summary>
    private static async Task RunAsync(DrainboardHost host, MailSink sink, int times)
    {
        for (var time = 0; time < times; time++)
        {
            await host.Services.GetRequiredService<WarningMaker>().RunAsync(TestContext.Current.CancellationToken);
            await new WarningMailer(host.Db, host.Clock, NullLogger<WarningMailer>.Instance, new MailSettings("localhost", sink.Port, false, "", "", "drainboard@example.org")).RunAsync(TestContext.Current.CancellationToken);
        }
    }

    private static async Task<string> FollowAsync(HttpClient client, object wish)
    {
        var (status, body, _) = await client.SendAsync(HttpMethod.Post, "/api/v1/follows", wish);
        Assert.True(status == 200, $"{status} {body}");
        return body!["id"]!.GetValue<string>();
    }

    private static async Task GiveAddressAsync(DrainboardHost host, string userName)
    {
        await using var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken);
        await db.Users.Where(person => person.UserName == userName).ExecuteUpdateAsync(set => set.SetProperty(person => person.Email, $"{userName}@example.org"), TestContext.Current.CancellationToken);
    }

    private static async Task<string> LeadsAsync(DrainboardHost host, string userName, string defect)
    {
        var me = (await host.ActorAsync(userName)).Person;
        await using var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken);
        var id = new Domain.Defects.DefectId(Guid.Parse(defect));
        return string.Join(" ", await db.Warnings.Where(warning => warning.Defect == id && warning.Person == me).OrderBy(warning => warning.MadeAt).Select(warning => warning.LeadHours).ToArrayAsync(TestContext.Current.CancellationToken));
    }
}
