using System.Net;
using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Tests.Api;

/// <summary>Passwords and the doors at which they are tried (OWASP ASVS 5.0: 6.2, 6.3.1, 6.4).</summary>
public sealed class PasswordsTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [InlineData("short words", false)]
    [InlineData("password1234", false)]
    [InlineData("P4ssw0rd!!!!2026", false)]
    [InlineData("welcome welcome", false)]
    [InlineData("abcabcabcabc", false)]
    [InlineData("111111111111", false)]
    [InlineData("123456789012", false)]
    [InlineData("ada first 1990", false)]
    [InlineData("Strand-Air-2026!", false)]
    [InlineData("four wet otters dancing", true)]
    [InlineData("vierzehn nasse Otter", true)]
    [InlineData("k7!vPq2#zLw9", true)]
    [InlineData("пять мокрых выдр", true)]
    public void Password_IsTakenByWhatIsLeftWithoutTheObvious(string password, bool taken) => Assert.Equal(taken, Passwords.WhyNotChosen(password, "ada", "Ada First", "Strand Air") is null);

    /// <summary>ASVS 6.2.4 asks for the 3,000 most used of what the rules allow, 6.2.12 for stolen ones. These stand on published lists, and hold none of our own common words.</summary>
    [Theory]
    [InlineData("leavemealone")]
    [InlineData("1qaz2wsx3edc4rfv")]
    [InlineData("ChickenWing101")]
    [InlineData("sonyericsson")]
    public void Password_ThatWasStolen_IsRefused(string password)
    {
        Assert.InRange(StolenPasswords.Count, 3_000, int.MaxValue);
        Assert.NotNull(Passwords.WhyNotChosen(password));
        Assert.True(StolenPasswords.Has(password));
    }

    [Fact]
    public void Password_Drawn_MayBeOne_AndIsNeverTheSame()
    {
        var drawn = Enumerable.Range(0, 200).Select(_ => Passwords.Draw()).ToArray();
        Assert.All(drawn, password => Assert.Null(Passwords.WhyNotChosen(password)));
        Assert.Equal(drawn.Length, drawn.Distinct().Count());
    }

    [Fact]
    public void Password_OfAnyLengthOverTheLimit_IsRefused() => Assert.Equal("password", Passwords.WhyNotChosen(new string('x', Passwords.Longest) + "abcdef")!.Code);

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task OwnPassword_ByTheApi_NeedsTheOneUntilNow_AndFiveWrongOnesLockIt(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        var tech = await host.ClientForAsync("tech");
        object Wish(string current) => new { id = NewId.At(host.Clock.GetCurrentInstant()), current, password = "four wet otters dancing" };
        for (var wrong = 0; wrong < 4; wrong++)
        {
            Assert.Equal("password-wrong", (string?)(await tech.SendAsync(HttpMethod.Put, "/api/v1/me/password", Wish("not it at all")))!.Body!["refusal"]);
        }

        Assert.Equal(200, (await tech.SendAsync(HttpMethod.Put, "/api/v1/me/password", Wish(SmallFleet.Password))).Status);

        // What was right begins the count anew.
        for (var wrong = 0; wrong < 4; wrong++)
        {
            Assert.Equal("password-wrong", (string?)(await tech.SendAsync(HttpMethod.Put, "/api/v1/me/password", Wish(SmallFleet.Password)))!.Body!["refusal"]);
        }

        Assert.Equal("signing-locked", (string?)(await tech.SendAsync(HttpMethod.Put, "/api/v1/me/password", Wish(SmallFleet.Password)))!.Body!["refusal"]);
        Assert.Equal("signing-locked", (string?)(await tech.SendAsync(HttpMethod.Put, "/api/v1/me/password", Wish("four wet otters dancing")))!.Body!["refusal"]);
    }

    /// <summary>Whoever gave a password cannot leave another way into the account with it (ASVS 6.4).</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task GivenPassword_SetsNoOtherSecret_AndVoidsThoseThatWere(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        var (admin, tech) = (await host.ClientForAsync("admin"), await host.ClientForAsync("tech"));
        var version = (await admin.ReadAsync("/api/v1/people")).AsArray().Single(person => (string?)person!["userName"] == "tech")!["version"]!.GetValue<long>();
        var wish = new { id = NewId.At(host.Clock.GetCurrentInstant()), name = "Tech Person", roles = new[] { "technician" }, stations = new[] { "QQAA" }, givePassword = true };
        var given = (string)(await admin.SendAsync(HttpMethod.Put, "/api/v1/people/tech", wish, $"\"{version}\"")).Body!["password"]!;
        Assert.Matches("^[a-km-np-z2-9]{4}(-[a-km-np-z2-9]{4}){4}$", given);
        Assert.Null((await admin.SendAsync(HttpMethod.Put, "/api/v1/people/tech", wish, $"\"{version}\"")).Body!["password"]);
        await using (var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken))
        {
            Assert.Equal((null, null), db.Users.Where(person => person.UserName == "tech").Select(person => new ValueTuple<string?, string?>(person.SigningCodeHash, person.PinHash)).Single());
        }

        Assert.Equal("password-given", (string?)(await tech.SendAsync(HttpMethod.Put, "/api/v1/me/pin", new { id = NewId.At(host.Clock.GetCurrentInstant()), password = given, pin = "314159" })).Body!["refusal"]);
        Assert.Equal("password-given", (string?)(await tech.SendAsync(HttpMethod.Put, "/api/v1/me/signing-code", new { id = NewId.At(host.Clock.GetCurrentInstant()), password = given, code = "kettle-9" })).Body!["refusal"]);
        Assert.Equal(200, (await tech.SendAsync(HttpMethod.Put, "/api/v1/me/password", new { id = NewId.At(host.Clock.GetCurrentInstant()), current = given, password = "four wet otters dancing" })).Status);
        Assert.Equal(200, (await tech.SendAsync(HttpMethod.Put, "/api/v1/me/pin", new { id = NewId.At(host.Clock.GetCurrentInstant()), password = "four wet otters dancing", pin = "314159" })).Status);
    }

    /// <summary>A forgotten password is no way round a passkey; a passkey that is taken away takes the old password with it (ASVS 6.4.3, 6.4.4).</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Passkeys_StayWithANewPassword_AndGoOnlyTogetherWithTheOld(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        var (stop, admin) = (TestContext.Current.CancellationToken, await host.ClientForAsync("admin"));
        await using var db = await host.Db.CreateDbContextAsync(stop);
        var tech = await db.Users.Where(person => person.UserName == "tech").Select(person => person.Id).SingleAsync(stop);
        db.UserPasskeys.Add(new IdentityUserPasskey<Guid> { UserId = tech, CredentialId = [1, 2, 3], Data = new IdentityPasskeyData { PublicKey = [1], Name = "my phone", AttestationObject = [1], ClientDataJson = [1] } });
        await db.SaveChangesAsync(stop);

        Assert.Equal(("password-too", 1), await SaveAsync(givePassword: false, voidPasskeys: true));
        Assert.Equal((null, 1), await SaveAsync(givePassword: true, voidPasskeys: false));
        Assert.Equal((null, 0), await SaveAsync(givePassword: true, voidPasskeys: true));

        async Task<(string?, int)> SaveAsync(bool givePassword, bool voidPasskeys)
        {
            var version = (await admin.ReadAsync("/api/v1/people")).AsArray().Single(person => (string?)person!["userName"] == "tech")!["version"];
            var answer = await admin.SendAsync(HttpMethod.Put, "/api/v1/people/tech", new { id = NewId.At(host.Clock.GetCurrentInstant()), name = "Tech Person", roles = new[] { "technician" }, givePassword, voidPasskeys }, $"\"{version}\"");
            return ((string?)answer.Body!["refusal"], await db.UserPasskeys.CountAsync(passkey => passkey.UserId == tech, stop));
        }
    }

    /// <summary>One address tries more than a whole shift would: it is told to wait, and what it says is not looked at.</summary>
    [Fact]
    public async Task Doors_AskedTooOften_AnswerLater()
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(DatabaseKind.Sqlite);
        using var client = host.CreateClient();
        var answers = new List<(HttpStatusCode Status, bool SaysWhen)>();
        for (var tries = 0; tries < RateLimits.DoorsPerMinute + 5; tries++)
        {
            using var answer = await client.PostAsync(new Uri("/passkeys/request-options", UriKind.Relative), null, TestContext.Current.CancellationToken);
            answers.Add((answer.StatusCode, answer.Headers.RetryAfter is not null));
        }

        Assert.DoesNotContain(answers[..10], answer => answer.Status == HttpStatusCode.TooManyRequests);
        Assert.Equal((HttpStatusCode.TooManyRequests, true), answers[^1]);
    }

    /// <summary>A page of another origin opens no live line in a signed-in person's name (ASVS 4.4.2).</summary>
    [Fact]
    public async Task LiveLine_AskedForFromAnotherOrigin_IsRefused()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        using var client = host.CreateClient();
        using var request = new HttpRequestMessage(HttpMethod.Get, new Uri("/_blazor?id=x", UriKind.Relative));
        request.Headers.Add("Origin", "https://elsewhere.example");
        using var answer = await client.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    /// <summary>What cannot be read is named by the words of the contract, not by ours for types (ASVS 16.5.1).</summary>
    [Fact]
    public async Task BodyThatCannotBeRead_SaysNothingOfOurTypes()
    {
        var client = await (await hosts.OnAsync(DatabaseKind.Sqlite)).ClientForAsync("crew");
        var (status, body, _) = await client.SendAsync(HttpMethod.Post, "/api/v1/reports", new { });
        Assert.Equal(400, status);
        Assert.DoesNotContain("Drainboard.", body!.ToJsonString(), StringComparison.Ordinal);
    }
}
