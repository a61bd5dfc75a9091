using System.Text.RegularExpressions;
using Drainboard.Data.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Testing.Databases;
using Drainboard.Testing.Processes;
using Npgsql;

namespace Drainboard.Web.Tests.Hosting;

/// <summary>Several processes that meet an empty database at the same moment.</summary>
public sealed partial class FirstLinkTests
{
    [Fact]
    public async Task TwoProcesses_OnAnEmptyDatabase_BothStart_AndBothLinksOpenIt()
    {
        var (database, reason) = await TestDatabase.NewAsync(DatabaseKind.Postgres);
        Assert.SkipWhen(database is null, reason);
        var folder = Directory.CreateTempSubdirectory("drainboard-first-").FullName;
        await using (var one = new WebProcess(Repository.Program, Path.Combine(folder, "1"), new Dictionary<string, string> { ["DRAINBOARD_DATABASE"] = database!, ["DRAINBOARD_DEMO"] = "off" }))
        await using (var other = new WebProcess(Repository.Program, Path.Combine(folder, "2"), new Dictionary<string, string> { ["DRAINBOARD_DATABASE"] = database!, ["DRAINBOARD_DEMO"] = "off" }))
        {
            await Task.WhenAll(one.StartAsync(), other.StartAsync());

            var secrets = new[] { await SecretAsync(one), await SecretAsync(other) };
            Assert.NotEqual(secrets[0], secrets[1]);
            await using var look = new NpgsqlConnection(database);
            await look.OpenAsync(TestContext.Current.CancellationToken);
            await using var ask = new NpgsqlCommand("SELECT \"SetUpSecretHash\" FROM \"Installations\"", look);
            var installation = new Installation("", isDemo: false, default);
            installation.AwaitSetUp((string)(await ask.ExecuteScalarAsync(TestContext.Current.CancellationToken))!);
            Assert.All(secrets, secret => Assert.True(installation.OpensSetUp(ApiKey.HashOf(secret))));
            Assert.False(installation.OpensSetUp(ApiKey.HashOf("another")));
        }

        await TestDatabase.DropAsync(database!);
        Directory.Delete(folder, recursive: true);
    }

    private static async Task<string> SecretAsync(WebProcess process)
    {
        for (var tries = 0; tries < 100; tries++)
        {
            if (Link().Match(await File.ReadAllTextAsync(process.Log)) is { Success: true } link)
            {
                return link.Groups[1].Value;
            }

            await Task.Delay(50);
        }

        throw new InvalidOperationException("No link was printed.");
    }

    [GeneratedRegex("secret=([0-9a-f]{32})")]
    private static partial Regex Link();
}
