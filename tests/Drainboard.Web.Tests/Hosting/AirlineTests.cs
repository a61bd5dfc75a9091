using System.Net;
using System.Net.Http.Json;
using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Testing.Processes;
using NodaTime;

namespace Drainboard.Web.Tests.Hosting;

/// <summary>Two web processes on one PostgreSQL behind the balancer of deploy/nginx.conf, as real processes.</summary>
public sealed class AirlineTests
{
    private static readonly string[] Sinks = ["K-1", "K-2", "B-A"];

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    /// <summary>A person stays with the process that they came to first, until it dies: then the other one answers, and nothing acknowledged is lost or done twice.</summary>
    [Fact]
    public async Task ProcessesDie_WhileReportsComeIn_AndEachIsThereOnce()
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(DatabaseKind.Postgres);
        var (airline, reason) = await Airline.TryStartAsync(host.Database);
        Assert.SkipWhen(airline is null, reason);
        await using var running = airline;
        using var crew = new HttpClient(new SocketsHttpHandler { CookieContainer = new CookieContainer() }) { BaseAddress = airline.Address };
        crew.DefaultRequestHeaders.Add("X-Api-Key", await host.SecretForAsync("crew"));
        var (sent, killed) = (new List<Guid>(), -1);
        for (var number = 0; number < 40; number++)
        {
            if (number is 12 or 26)
            {
                if (killed >= 0)
                {
                    await airline.Processes[killed].StartAsync();
                }

                killed = (await airline.AnsweredAsync())[^1].Process;
                await airline.Processes[killed].KillAsync();
            }

            var id = NewId.At(SystemClock.Instance.GetCurrentInstant());
            sent.Add(id);
            Assert.Equal(HttpStatusCode.Created, await SendAsync(crew, id, Sinks[number % Sinks.Length]));

            // A device that heard no answer sends it again.
            Assert.Equal(HttpStatusCode.Created, await SendAsync(crew, id, Sinks[number % Sinks.Length]));
        }

        await TakesTheBalancersWordAsync(airline.Processes[1 - killed].Address, secure: true);
        await TakesTheBalancersWordAsync(airline.Processes[1 - killed].Address, secure: false);
        await using var db = await host.Db.CreateDbContextAsync(Stop);
        Assert.Equal(sent.Order(), db.Reports.Select(report => report.Id).AsEnumerable().Select(id => id.Value).Order());
        var answered = (await airline.AnsweredAsync()).Where(row => row.Line.Length > 1).ToArray();
        Assert.Equal([answered[^1].Line], answered.Where(row => answered.Count(other => other.Line == row.Line) > 10).Select(row => row.Line).Distinct());

        // Each of the first twelve went to one process, and what came after its end to the other.
        var mine = answered.Where(row => row.Line == answered[^1].Line).Select(row => row.Process).ToArray();
        Assert.Single(mine[..20].Distinct());
        Assert.NotEqual(mine[0], mine[30]);
        Assert.Empty((await (await host.ClientForAsync("engineer")).ReadAsync("/api/v1/record/verification"))["breaks"]!.AsArray());
    }

    /// <summary>Over TLS as far as the balancer: cookies are for TLS and this host only, and the browser is told to come back so.</summary>
    private static async Task TakesTheBalancersWordAsync(Uri address, bool secure)
    {
        using var client = new HttpClient(new SocketsHttpHandler { UseCookies = false }) { BaseAddress = address };
        using var request = new HttpRequestMessage(HttpMethod.Get, new Uri("/sign-in", UriKind.Relative));
        request.Headers.Host = "drainboard.example";
        request.Headers.Add("X-Forwarded-Proto", secure ? "https" : "http");
        using var answer = await client.SendAsync(request, Stop);
        Assert.Equal(secure, answer.Headers.Contains("Strict-Transport-Security"));
        Assert.All(answer.Headers.GetValues("Set-Cookie"), cookie => Assert.Equal((secure, secure), (cookie.StartsWith("__Host-", StringComparison.Ordinal), cookie.Contains("secure", StringComparison.OrdinalIgnoreCase))));
    }

    private static async Task<HttpStatusCode> SendAsync(HttpClient crew, Guid id, string position)
    {
        for (var tries = 0; ; tries++)
        {
            try
            {
                using var answer = await crew.PostAsJsonAsync(new Uri("/api/v1/reports", UriKind.Relative), new { id, tail = "QQ-TSA", position, symptom = "drainsSlowly", leak = "noneSeen", seenAt = "2026-01-26T10:00:00Z", words = $"{id}" }, Stop);
                if (answer.StatusCode is not (HttpStatusCode.BadGateway or HttpStatusCode.GatewayTimeout) || tries > 20)
                {
                    return answer.StatusCode;
                }
            }
            catch (HttpRequestException) when (tries <= 20)
            {
                // No answer came: the outbox sends it again.
            }

            await Task.Delay(200, Stop);
        }
    }
}
