using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Web.Tests.Api;

/// <summary>A signature is given with the person's own second secret, once or not at all, and within the authorisation.</summary>
public sealed class SigningTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Fact]
    public async Task Release_WithAWrongCode_IsRefusedAndLocksAfterFive()
    {
        await using var host = await StartAsync();
        var defect = await Station.WorkDoneAsync(host);

        Assert.Equal("signing-code-missing", await SignAsync(host, defect, null));
        for (var wrong = 0; wrong < 4; wrong++)
        {
            Assert.Equal("signing-code-wrong", await SignAsync(host, defect, "guess-it"));
        }

        Assert.Equal("signing-locked", await SignAsync(host, defect, "guess-it"));
        Assert.Equal("signing-locked", await SignAsync(host, defect, SmallFleet.SigningCode));
        host.Clock.AdvanceMinutes(11);
        Assert.Null(await SignAsync(host, defect, SmallFleet.SigningCode));
    }

    /// <summary>The answer was lost on the way: the same wish sent again is answered alike, and stands on record once.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Release_SentTwiceAfterALostAnswer_IsSignedOnce(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var defect = await Station.WorkDoneAsync(host);
        var client = await host.ClientForAsync("cert");
        var (version, key) = ((await Station.ReadAsync(host, defect))["version"]!.GetValue<long>(), NewId.At(host.Clock.GetCurrentInstant()).ToString());
        var body = new { outcome = "rectified", log = Station.Log(host.Clock.GetCurrentInstant()), signingCode = SmallFleet.SigningCode };

        var first = await client.SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/rectification/release", body, $"\"{version}\"", key);
        var again = await client.SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/rectification/release", body, $"\"{version}\"", key);

        Assert.Equal((200, first.Body!.ToJsonString()), (again.Status, again.Body!.ToJsonString()));
        await using var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken);
        Assert.Equal(1, await db.Record.CountAsync(entry => entry.Subject == Guid.Parse(defect) && entry.Kind == "work.released", TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Release_FromTwoTabs_IsSignedOnceAndTheOtherIsTold()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.WorkDoneAsync(host);
        var client = await host.ClientForAsync("cert");
        var version = (await Station.ReadAsync(host, defect))["version"]!.GetValue<long>();
        var body = new { outcome = "rectified", log = Station.Log(host.Clock.GetCurrentInstant()), signingCode = SmallFleet.SigningCode };

        var both = await Task.WhenAll(Enumerable.Range(0, 2).Select(_ => client.SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/rectification/release", body, $"\"{version}\"")));

        Assert.Equal([200, 412], both.Select(answer => answer.Status).Order());
    }

    [Fact]
    public async Task Release_WhileTheClockIsSetBack_StandsInOrderAndHolds()
    {
        await using var host = await StartAsync();
        var defect = await Station.WorkDoneAsync(host);
        host.Clock.Advance(-Duration.FromHours(1));

        Assert.Null(await SignAsync(host, defect, SmallFleet.SigningCode, at: host.Clock.GetCurrentInstant()));

        Assert.Equal("work.released", (await Station.ReadAsync(host, defect))["story"]!.AsArray()[^1]!["kind"]!.GetValue<string>());
        Assert.True((await host.Services.GetRequiredService<RecordQuery>().VerifyAsync(TestContext.Current.CancellationToken)).Whole);
    }

    [Fact]
    public async Task Code_NeverStandsInTheWishesOrTheRecord()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.WorkDoneAsync(host);
        Assert.Null(await SignAsync(host, defect, SmallFleet.SigningCode));
        await using var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken);
        Assert.DoesNotContain(await db.Commands.Select(command => command.Answer).ToArrayAsync(TestContext.Current.CancellationToken), answer => answer.Contains(SmallFleet.SigningCode, StringComparison.Ordinal));
        Assert.DoesNotContain(await db.Record.Select(entry => entry.Payload).ToArrayAsync(TestContext.Current.CancellationToken), payload => payload.Contains(SmallFleet.SigningCode, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("cert.none", "no-authorisation-number")]
    [InlineData("cert.old", "authorisation-expired")]
    public async Task Release_WithoutAGoodAuthorisation_IsRefusedInItsOwnWords(string who, string code)
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.WorkDoneAsync(host);
        Assert.Equal(code, await SignAsync(host, defect, SmallFleet.SigningCode, who));
    }

    [Theory]
    [InlineData("123456", "signing-code-simple")]
    [InlineData("aaaaaaa", "signing-code-simple")]
    [InlineData("abc", "signing-code-length")]
    [InlineData(SmallFleet.Password, "signing-code-is-password")]
    [InlineData("tarn-9-heath", null)]
    public async Task SetCode_IsCheckedBeforeItIsTaken(string code, string? refusal)
    {
        await using var host = await StartAsync();
        var client = await host.ClientForAsync("cert");
        var (status, body, _) = await client.SendAsync(HttpMethod.Put, "/api/v1/me/signing-code", new { id = NewId.At(host.Clock.GetCurrentInstant()), password = SmallFleet.Password, code });

        Assert.Equal(refusal, status == 200 ? null : body!["refusal"]!.GetValue<string>());
        if (refusal is null)
        {
            Assert.Null(await SignAsync(host, await Station.WorkDoneAsync(host), code));
        }
    }

    [Fact]
    public async Task Correction_OfASignedEntry_KeepsBothAndLeadsFromOneToTheOther()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.WorkDoneAsync(host);
        Assert.Null(await SignAsync(host, defect, SmallFleet.SigningCode));
        var signed = (await Station.ReadAsync(host, defect))["story"]!.AsArray()[^1]!["entry"]!.GetValue<long>();

        await Station.MustAsync(host, "cert", defect, "corrections", new { words = "The manual task was 38-31-06.", entry = signed });
        var (status, body, _) = await (await host.ClientForAsync("cert")).ActAsync(defect, "corrections", new { words = "x", entry = 9999 });

        var story = (await Station.ReadAsync(host, defect))["story"]!.AsArray();
        Assert.Equal((signed, "work.released"), (story[^1]!["corrects"]!.GetValue<long>(), story[^2]!["kind"]!.GetValue<string>()));
        Assert.Equal((422, "no-such-entry"), (status, body!["refusal"]!.GetValue<string>()));
    }

    private static async Task<DrainboardHost> StartAsync()
    {
        var (host, reason) = await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite);
        Assert.SkipWhen(host is null, reason);
        return host!;
    }

    private static async Task<string?> SignAsync(DrainboardHost host, string defect, string? code, string who = "cert", Instant? at = null)
    {
        var (status, body, _) = await (await host.ClientForAsync(who)).ActAsync(defect, "rectification/release", new { outcome = "rectified", log = Station.Log(at ?? host.Clock.GetCurrentInstant()), signingCode = code });
        return status == 200 ? null : body!["refusal"]?.GetValue<string>() ?? $"{status} {body}";
    }
}
