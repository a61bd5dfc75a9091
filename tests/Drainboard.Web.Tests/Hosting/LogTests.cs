using System.Text.Json.Nodes;
using Drainboard.Testing.Processes;

namespace Drainboard.Web.Tests.Hosting;

/// <summary>What the service's log says of the doors, as a process of its own (ASVS 16.2, 16.3, 16.4.1).</summary>
public sealed class LogTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("json")]
    [InlineData("")]
    public async Task KeyThatOpensNothing_IsLoggedWithPlaceAndTime_AndWithoutTheKey(string kind)
    {
        var folder = Directory.CreateTempSubdirectory("drainboard-log-").FullName;
        await using (var web = new WebProcess(Repository.Program, folder, new Dictionary<string, string> { ["DRAINBOARD_LOG"] = kind, ["DRAINBOARD_DEMO"] = "off" }))
        {
            await web.StartAsync();
            using var client = new HttpClient { BaseAddress = web.Address };
            client.DefaultRequestHeaders.Add("X-Api-Key", "stolen-and-wrong");
            await client.GetAsync(new Uri("/api/v1/defects/019bf9be-f500-7b69-92ff-af307fb5a72e", UriKind.Relative), Stop);
            var line = (await UntilSaidAsync(web.Log)).Single(line => line.Contains("api key", StringComparison.Ordinal));
            Assert.DoesNotContain("stolen-and-wrong", await File.ReadAllTextAsync(web.Log, Stop), StringComparison.Ordinal);
            Assert.Contains("127.0.0.1", line, StringComparison.Ordinal);
            if (kind == "json")
            {
                var said = JsonNode.Parse(line)!;
                Assert.Equal("Drainboard.Security", (string?)said["SourceContext"]);
                Assert.EndsWith("Z", (string?)said["@t"], StringComparison.Ordinal);
                Assert.Equal("/api/v1/defects/{id:guid}", (string?)said["Path"]);
            }
            else
            {
                Assert.Matches(@"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z WRN Drainboard\.Security: Refused", line);
            }
        }

        Directory.Delete(folder, recursive: true);
    }

    private static async Task<string[]> UntilSaidAsync(string log)
    {
        for (var tries = 0; tries < 100; tries++)
        {
            var lines = await File.ReadAllLinesAsync(log, Stop);
            if (lines.Any(line => line.Contains("api key", StringComparison.Ordinal)))
            {
                return lines;
            }

            await Task.Delay(100, Stop);
        }

        return [];
    }
}
