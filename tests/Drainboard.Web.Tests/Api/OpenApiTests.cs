using System.Text.Json;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Testing.Processes;

namespace Drainboard.Web.Tests.Api;

public sealed class OpenApiTests(Hosts hosts) : IClassFixture<Hosts>
{
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    /// <summary>The contract is a golden file. After a wanted change: DRAINBOARD_ACCEPT=1 bash tests/run.sh, and read the diff.</summary>
    [Fact]
    public async Task Document_IsTheCommittedOne()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var served = (await (await host.ClientForAsync("admin")).ReadAsync("/openapi/v1.json")).ToJsonString(Indented).ReplaceLineEndings("\n") + "\n";
        var path = Path.Combine(Repository.Root, "docs", "openapi.json");
        if (Environment.GetEnvironmentVariable("DRAINBOARD_ACCEPT") == "1")
        {
            await File.WriteAllTextAsync(path, served, TestContext.Current.CancellationToken);
        }

        Assert.Equal(await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken), served);
        Assert.Contains("\"openapi\": \"3.1", served, StringComparison.Ordinal);
    }
}
