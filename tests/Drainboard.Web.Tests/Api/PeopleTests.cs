using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.SetUp;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Web.Tests.Api;

public sealed class PeopleTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Account_MadeThenChanged_NeedsTheVersionThatWasSeen(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var admin = await host.ClientForAsync("admin");

        Assert.Equal(428, (await admin.SendAsync(HttpMethod.Put, "/api/v1/people/new.person", Person(host))).Status);
        Assert.Equal(404, (await admin.SendAsync(HttpMethod.Put, "/api/v1/people/new.person", Person(host), "\"0\"")).Status);
        admin.DefaultRequestHeaders.TryAddWithoutValidation("If-None-Match", "*");
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/people/new.person", Person(host))).Status);
        Assert.Equal(422, (await admin.SendAsync(HttpMethod.Put, "/api/v1/people/new.person", Person(host))).Status);
        admin.DefaultRequestHeaders.Remove("If-None-Match");
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/people/new.person", Person(host, "Renamed"), "\"0\"")).Status);
        Assert.Equal(412, (await admin.SendAsync(HttpMethod.Put, "/api/v1/people/new.person", Person(host, "Again"), "\"0\"")).Status);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Account_Closed_IsOutAtTheNextCall(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var admin = await host.ClientForAsync("admin");
        var engineer = await host.ClientForAsync("engineer.b");
        Assert.Equal(200, (await engineer.SendAsync(HttpMethod.Get, "/api/v1/stations", null)).Status);
        var version = (await admin.ReadAsync("/api/v1/people")).AsArray().Single(person => person!["userName"]!.GetValue<string>() == "engineer.b")!["version"]!.GetValue<long>();

        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/people/engineer.b", new { id = Id(host), name = "Other Engineer", roles = new[] { "reliabilityEngineer" }, isDisabled = true }, $"\"{version}\"")).Status);

        Assert.Equal(401, (await engineer.SendAsync(HttpMethod.Get, "/api/v1/stations", null)).Status);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Key_MadeThenRevoked_WorksBetweenAndShowsItsSecretOnce(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var admin = await host.ClientForAsync("admin");
        var wish = new { id = Id(host), name = "Ops feed", userName = "tech", scopes = new[] { "read" } };

        var made = await admin.SendAsync(HttpMethod.Post, "/api/v1/api-keys", wish);
        var again = await admin.SendAsync(HttpMethod.Post, "/api/v1/api-keys", wish);
        Assert.Null(again.Body!["secret"]);
        using var program = host.CreateClient();
        program.DefaultRequestHeaders.Add("X-Api-Key", made.Body!["secret"]!.GetValue<string>());
        Assert.Equal(200, (await program.SendAsync(HttpMethod.Get, "/api/v1/stations", null)).Status);
        await admin.SendAsync(HttpMethod.Post, $"/api/v1/api-keys/{made.Body["id"]}/revocation", null);

        Assert.Equal(401, (await program.SendAsync(HttpMethod.Get, "/api/v1/stations", null)).Status);
    }

    [Fact]
    public async Task Authorisation_LongerThanALine_IsRefused()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var admin = await host.ClientForAsync("admin");
        admin.DefaultRequestHeaders.TryAddWithoutValidation("If-None-Match", "*");
        object Wish(int length) => new { id = Id(host), name = "Long", roles = new[] { "technician" }, stations = new[] { "QQAA" }, authorisationNumber = new string('1', length) };

        Assert.Equal((422, "authorisation"), await admin.SendAsync(HttpMethod.Put, "/api/v1/people/long", Wish(81)) is var answer ? (answer.Status, (string?)answer.Body!["refusal"]) : default);
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/people/long", Wish(80))).Status);
    }

    /// <summary>A key ends by itself (ASVS 13.2.1): within 400 days, and so where nothing is said.</summary>
    [Fact]
    public async Task Key_EndsWithin400Days()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var admin = await host.ClientForAsync("admin");
        var now = host.Clock.GetCurrentInstant();
        object Wish(Instant? until) => new { id = Id(host), name = "Ends", userName = "tech", scopes = new[] { "read" }, expiresAt = until?.ToString() };
        Assert.Equal("expiry", (string?)(await admin.SendAsync(HttpMethod.Post, "/api/v1/api-keys", Wish(now + Duration.FromDays(401)))).Body!["refusal"]);
        var made = (string?)(await admin.SendAsync(HttpMethod.Post, "/api/v1/api-keys", Wish(null))).Body!["id"];
        Assert.Equal((now + Duration.FromDays(400)).ToString(), (string?)(await admin.ReadAsync("/api/v1/api-keys")).AsArray().Single(key => (string?)key!["id"] == made)!["expiresAt"]);
    }

    /// <summary>At an open page the second factor of others is not switched off by whoever sits down there (ASVS 7.5.1); and nobody shuts themselves out.</summary>
    [Fact]
    public async Task PasskeyRoles_ChangedAtAPage_NeedTheOwnPassword_AndAPasskeyOfOnesOwn()
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(DatabaseKind.Sqlite);
        var handler = host.Services.GetRequiredService<ChangeInstallationHandler>();
        var admin = await host.ActorAsync("admin");
        Assert.Contains("own password", await SayAsync([Role.Technician], null), StringComparison.Ordinal);
        Assert.Contains("not your password", await SayAsync([Role.Technician], "something else"), StringComparison.Ordinal);
        Assert.Contains("shut you out", await SayAsync([Role.Administrator], SmallFleet.Password), StringComparison.Ordinal);
        Assert.Null(await SayAsync([Role.Technician], SmallFleet.Password));
        Assert.Null(await SayAsync([Role.Technician], null));
        Assert.Contains("own password", await SayAsync([], null), StringComparison.Ordinal);

        // At the machine itself: the way back in.
        Assert.Equal(0, await PasskeysCommand.RunAsync(host.Services));
        await using var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken);
        Assert.Empty(db.Installations.Single().PasskeyRoles);

        async Task<string?> SayAsync(Role[] roles, string? password) =>
            (await handler.HandleAsync(new Call(admin, Id(host)), new ChangeInstallationRequest("Test", LogMode.BesideLog, "us", "3-in-15-days", null, roles, password), TestContext.Current.CancellationToken)).Trouble;
    }

    /// <summary>A file of people is no way round the question (ASVS 7.5.1); one of stations asks nothing.</summary>
    [Fact]
    public async Task PeopleByImport_AtAPage_NeedTheOwnPassword()
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(DatabaseKind.Sqlite);
        var (importer, admin) = (host.Services.GetRequiredService<Importer>(), await host.ActorAsync("admin"));
        Assert.Contains("own password", Assert.Single((await RunAsync("people.csv", "userName,name,roles\nnew.hand,New Hand,administrator\n", null)).Faults).Words, StringComparison.Ordinal);
        Assert.True((await RunAsync("stations.csv", "code,name,zone\nQQEE,New Strand,Europe/Lisbon\n", null)).Saved);
        Assert.True((await RunAsync("people.csv", "userName,name,roles\nnew.hand,New Hand,administrator\n", SmallFleet.Password)).Saved);

        Task<ImportReport> RunAsync(string name, string text, string? password) => importer.RunAsync(new Dictionary<string, string> { [name] = text }, false, admin, TestContext.Current.CancellationToken, password);
    }

    private static object Person(DrainboardHost host, string name = "New Person") => new { id = Id(host), name, roles = new[] { "technician" }, stations = new[] { "QQAA" } };

    private static Guid Id(DrainboardHost host) => NewId.At(host.Clock.GetCurrentInstant());
}
