using System.Net.Http.Headers;
using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.SetUp;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using NodaTime;
using NodaTime.Testing;

namespace Drainboard.Testing;

/// <summary>
/// The whole program on a database of its own with a clock that stands where the test puts it, and the small fleet loaded. On a real port when
/// asked, for a browser.
/// </summary>
public sealed class DrainboardHost : WebApplicationFactory<Program>
{
    private readonly string _database;
    private readonly string _folder = Directory.CreateTempSubdirectory("drainboard-host-").FullName;
    private readonly Dictionary<string, string> _keys = [];
    private bool _isGone;
    private bool _staysBehind;

    private DrainboardHost(string database, Instant now)
    {
        _database = database;
        Clock = new FakeClock(now);
    }

    public FakeClock Clock { get; private init; }

    /// <summary>Set when the host listens on a real port.</summary>
    public Uri Address { get; private set; } = new("http://localhost");

    /// <summary>The setting that names its database.</summary>
    public string Database => _database;

    public IDbContextFactory<DrainboardDb> Db => Services.GetRequiredService<IDbContextFactory<DrainboardDb>>();

    /// <returns>The running host, or null and the reason for a skip.</returns>
    public static async Task<(DrainboardHost? Host, string Reason)> TryStartAsync(DatabaseKind kind, Instant? now = null, bool onPort = false, bool demo = false)
    {
        var (setting, reason) = await TestDatabase.NewAsync(kind);
        if (setting is null)
        {
            return (null, reason);
        }

        return (await StartAsync(new DrainboardHost(setting, now ?? SmallFleet.Now), onPort, demo), "");
    }

    /// <summary>The small fleet, or the demo, loaded into an empty database that stays when this host goes.</summary>
    public static Task<DrainboardHost> OnAsync(string database, Instant? now = null, bool onPort = false, bool demo = false) => StartAsync(new DrainboardHost(database, now ?? SmallFleet.Now) { _staysBehind = true }, onPort, demo);

    /// <summary>Another process on the same database, by the same clock.</summary>
    public DrainboardHost Beside()
    {
        var host = new DrainboardHost(_database, Clock.GetCurrentInstant()) { Clock = Clock, _staysBehind = true };
        _ = host.Services;
        return host;
    }

    /// <summary>A client that acts for one of the small fleet's people through an API key with every scope.</summary>
    public async Task<HttpClient> ClientForAsync(string userName, params ApiScope[] scopes)
    {
        var client = CreateClient();
        client.DefaultRequestHeaders.Add("X-Api-Key", await SecretForAsync(userName, scopes));
        client.DefaultRequestHeaders.Accept.Add(new MediaTypeWithQualityHeaderValue("application/json"));
        return client;
    }

    public async Task<Actor> ActorAsync(string userName)
    {
        await using var db = await Db.CreateDbContextAsync();
        return (await db.Users.SingleAsync(person => person.UserName == userName)).AsActor();
    }

    public override async ValueTask DisposeAsync()
    {
        await base.DisposeAsync();
        if (!_isGone)
        {
            _isGone = true;
            if (!_staysBehind)
            {
                await TestDatabase.DropAsync(_database);
            }

            Directory.Delete(_folder, recursive: true);
        }

        GC.SuppressFinalize(this);
    }

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseEnvironment("Production");
        builder.UseContentRoot(AppContext.BaseDirectory);
        builder.UseSetting("DRAINBOARD_DATABASE", _database);
        builder.UseSetting("DRAINBOARD_DATA", _folder);
        builder.UseSetting("Serilog:MinimumLevel:Default", "Warning");
        builder.ConfigureServices(services => services.Replace(ServiceDescriptor.Singleton<IClock>(Clock)));
    }

    private static async Task<DrainboardHost> StartAsync(DrainboardHost host, bool onPort, bool demo)
    {
        if (onPort)
        {
            host.UseKestrel(0);
            host.StartServer();
            host.Address = host.ClientOptions.BaseAddress;
        }

        await host.LoadAsync(demo);
        return host;
    }

    private async Task LoadAsync(bool demo)
    {
        if (demo)
        {
            await using var empty = await Db.CreateDbContextAsync();
            empty.Installations.RemoveRange(await empty.Installations.ToArrayAsync());
            await empty.SaveChangesAsync();
            await Services.GetRequiredService<Web.Features.Demo.DemoLoader>().LoadAsync(CancellationToken.None);
            return;
        }

        var report = await Services.GetRequiredService<Importer>().RunAsync(SmallFleet.Files(Clock.GetCurrentInstant()), dry: false, Actor.Installation, CancellationToken.None);
        if (!report.Saved)
        {
            throw new InvalidOperationException($"The small fleet does not import: {string.Join("; ", report.Faults)}");
        }

        await using var db = await Db.CreateDbContextAsync();
        var installation = await db.Installations.SingleAsync();
        installation.Change("Test operator (invented)", LogMode.BesideLog, "", "us", "3-in-15-days");
        installation.FinishSetUp();
        var hasher = new Microsoft.AspNetCore.Identity.PasswordHasher<Person>();
        var (password, code, pin) = (hasher.HashPassword(new Person(), SmallFleet.Password), hasher.HashPassword(new Person(), SmallFleet.SigningCode), hasher.HashPassword(new Person(), SmallFleet.Pin));
        foreach (var person in await db.Users.ToArrayAsync())
        {
            (person.PasswordHash, person.SigningCodeHash, person.PinHash) = (password, code, pin);
        }

        await db.SaveAsync(new Writing(Actor.Installation, Clock.GetCurrentInstant(), []), CancellationToken.None);
    }

    /// <summary>The secret of such a key, for a client of another process on the same database.</summary>
    public async Task<string> SecretForAsync(string userName, params ApiScope[] scopes)
    {
        var name = $"{userName} {string.Join(',', scopes)}";
        if (_keys.TryGetValue(name, out var known))
        {
            return known;
        }

        await using var db = await Db.CreateDbContextAsync();
        var person = await db.Users.SingleAsync(person => person.UserName == userName);
        var secret = ApiKey.NewSecret();
        db.ApiKeys.Add(new ApiKey(NewId.At(Clock.GetCurrentInstant()), name, new PersonId(person.Id), scopes.Length == 0 ? Enum.GetValues<ApiScope>() : scopes, Clock.GetCurrentInstant(), Clock.GetCurrentInstant() + Duration.FromDays(4000), secret));
        await db.SaveChangesAsync();
        return _keys[name] = secret;
    }
}
