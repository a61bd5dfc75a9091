using System.Net;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;

namespace Drainboard.Web.Tests.Hosting;

/// <summary>"Ready" is said only where a change would be taken.</summary>
public sealed class HealthTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Ready_OnADatabaseOfANewerProgram_IsNotSaid(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        Assert.Equal((HttpStatusCode.OK, "\"ready\""), await AskAsync(host));
        await using var db = await host.Db.CreateDbContextAsync(Stop);
        await db.Database.ExecuteSqlRawAsync("INSERT INTO \"__EFMigrationsHistory\" (\"MigrationId\", \"ProductVersion\") VALUES ('29990101000000_Later', '10')", Stop);

        var (status, words) = await AskAsync(host);

        Assert.Equal(HttpStatusCode.ServiceUnavailable, status);
        Assert.Contains("newer program", words, StringComparison.Ordinal);
    }

    /// <summary>As a standby, or a primary whose disk is kept from writing.</summary>
    [Fact]
    public async Task Ready_OnADatabaseThatTakesNoWrites_IsNotSaid()
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(DatabaseKind.Postgres);
        await using (var db = await host.Db.CreateDbContextAsync(Stop))
        {
            await db.Database.ExecuteSqlRawAsync("DO $$ BEGIN EXECUTE format('ALTER DATABASE %I SET default_transaction_read_only = on', current_database()); END $$", Stop);
        }

        host.Services.GetRequiredService<NpgsqlDataSource>().Clear();

        var (status, words) = await AskAsync(host);

        Assert.Equal(HttpStatusCode.ServiceUnavailable, status);
        Assert.Contains("takes no writes", words, StringComparison.Ordinal);
    }

    private static async Task<(HttpStatusCode Status, string Words)> AskAsync(DrainboardHost host)
    {
        using var nobody = host.CreateClient();
        using var answer = await nobody.GetAsync(new Uri("/health/ready", UriKind.Relative), Stop);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync(Stop));
    }
}
