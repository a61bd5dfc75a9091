using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Testing.Processes;
using NodaTime;

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

    /// <summary>ASVS 16.3.2 (what was refused) and 16.3.1 (what changes how somebody proves who they are): by account, never by name or secret.</summary>
    [Fact]
    public async Task WhatTheHandlerOrTheGuestGateRefuses_AndASecretThatChanges_AreLogged()
    {
        // As of now: a process of its own goes by the real time, and a tail must stand somewhere for somebody to be elsewhere.
        var (started, reason) = await DrainboardHost.TryStartAsync(DatabaseKind.Postgres, SystemClock.Instance.GetCurrentInstant());
        Assert.SkipWhen(started is null, reason);
        await using var host = started;
        var defect = await Station.OpenAsync(host, "QQ-TSB");
        var folder = Directory.CreateTempSubdirectory("drainboard-log-").FullName;
        await using (var web = new WebProcess(Repository.Program, folder, new Dictionary<string, string> { ["DRAINBOARD_LOG"] = "json", ["DRAINBOARD_DATABASE"] = host.Database, ["Serilog__MinimumLevel__Default"] = "Information" }))
        {
            await web.StartAsync();
            using var client = new HttpClient { BaseAddress = web.Address };
            Assert.Equal(403, await SendAsync("tech.b", HttpMethod.Post, $"/api/v1/defects/{defect}/taking", new { id = NewId.At(SystemClock.Instance.GetCurrentInstant()), have = true }));
            Assert.Equal(403, await SendAsync("contract", HttpMethod.Get, $"/api/v1/defects/{defect}", null));
            Assert.Equal(200, await SendAsync("pilot", HttpMethod.Put, "/api/v1/me/pin", new { id = NewId.At(SystemClock.Instance.GetCurrentInstant()), password = SmallFleet.Password, pin = "271829" }));
            Assert.Equal(200, await SendAsync("pilot", HttpMethod.Put, "/api/v1/me/signing-code", new { id = NewId.At(SystemClock.Instance.GetCurrentInstant()), password = SmallFleet.Password, code = "another-code-6" }));
            var said = await UntilSaidAsync(web.Log, "Secret changed");
            Assert.Equal(3, said.Count(line => line.Contains("Key used", StringComparison.Ordinal)));
            Assert.Contains(said, line => line.Contains("Not allowed at the door", StringComparison.Ordinal) && line.Contains("TakeItem", StringComparison.Ordinal));
            Assert.Contains(said, line => line.Contains("not-your-tail", StringComparison.Ordinal) && line.Contains("/api/v1/defects/{id:guid}", StringComparison.Ordinal));
            Assert.DoesNotContain(said, line => line.Contains("Other Tech", StringComparison.Ordinal) || line.Contains("another-code-6", StringComparison.Ordinal) || line.Contains(SmallFleet.Password, StringComparison.Ordinal));

            async Task<int> SendAsync(string who, HttpMethod method, string path, object? body)
            {
                client.DefaultRequestHeaders.Remove("X-Api-Key");
                client.DefaultRequestHeaders.Add("X-Api-Key", await host.SecretForAsync(who));
                return (await client.SendAsync(method, path, body)).Status;
            }
        }

        Directory.Delete(folder, recursive: true);
    }

    private static async Task<string[]> UntilSaidAsync(string log, string words = "api key")
    {
        for (var tries = 0; tries < 100; tries++)
        {
            var lines = await File.ReadAllLinesAsync(log, Stop);
            if (lines.Any(line => line.Contains(words, StringComparison.Ordinal)))
            {
                return lines;
            }

            await Task.Delay(100, Stop);
        }

        return [];
    }
}
