using System.Diagnostics;
using System.Net;
using Drainboard.Testing.Processes;

namespace Drainboard.Web.Tests.Hosting;

/// <summary>How the program ends when it is asked to, as a process of its own.</summary>
public sealed class EndingTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    /// <summary>Asked to stop, it says for a while that it is not ready, and goes on serving, so that a balancer can lead people elsewhere; then it ends by itself.</summary>
    [Fact]
    public async Task Terminated_WithTimeToDrain_ServesOnAndSaysNotReady()
    {
        var folder = Directory.CreateTempSubdirectory("drainboard-ending-").FullName;
        await using (var web = new WebProcess(Repository.Program, folder, new Dictionary<string, string> { ["DRAINBOARD_DRAIN"] = "4", ["DRAINBOARD_DEMO"] = "off" }))
        {
            await web.StartAsync();
            using var client = new HttpClient { BaseAddress = web.Address };
            var watch = Stopwatch.StartNew();
            var ended = web.StopAsync();
            while ((await client.GetAsync(new Uri("/health/ready", UriKind.Relative), Stop)).StatusCode != HttpStatusCode.ServiceUnavailable)
            {
                Assert.True(watch.Elapsed < TimeSpan.FromSeconds(4), "It never said that it is not ready.");
                await Task.Delay(50, Stop);
            }

            Assert.Equal(HttpStatusCode.OK, (await client.GetAsync(new Uri("/sign-in", UriKind.Relative), Stop)).StatusCode);
            Assert.Equal(0, await ended);
            Assert.True(watch.Elapsed >= TimeSpan.FromSeconds(4), $"It ended after {watch.Elapsed}.");
        }

        Directory.Delete(folder, recursive: true);
    }

    [Theory]
    [InlineData("DRAINBOARD_DRAIN", "soon", "number of seconds")]
    [InlineData("DRAINBOARD_HOST", "https://drainboard.example", "not a host name")]
    [InlineData("DRAINBOARD_PROXY", "the balancer", "neither an address nor a network")]
    public async Task Setting_ThatIsNone_IsNamedAndNothingStarts(string name, string value, string says)
    {
        var folder = Directory.CreateTempSubdirectory("drainboard-ending-").FullName;
        await using (var web = new WebProcess(Repository.Program, folder, new Dictionary<string, string> { [name] = value }))
        {
            var (code, words) = await web.CommandAsync("migrate");
            Assert.Equal(1, code);
            Assert.Contains(says, words, StringComparison.Ordinal);
        }

        Directory.Delete(folder, recursive: true);
    }
}
