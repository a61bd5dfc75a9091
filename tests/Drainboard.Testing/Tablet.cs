using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json.Nodes;
using Drainboard.Domain;

namespace Drainboard.Testing;

/// <summary>A shared tablet as a program: it is enrolled, and people give their PIN at it.</summary>
public sealed class Tablet : IDisposable
{
    private readonly HttpClient _client;
    private string? _ticket;

    private Tablet(HttpClient client) => _client = client;

    public static Tablet Of(DrainboardHost host)
    {
        // The test host's own client handler keeps cookies.
        var client = host.CreateClient();
        client.DefaultRequestHeaders.Accept.Add(new MediaTypeWithQualityHeaderValue("application/json"));
        return new Tablet(client);
    }

    public static async Task<string> CodeAsync(DrainboardHost host, string name = "Tablet 1", string? station = null, string? tail = null)
    {
        using var admin = await host.ClientForAsync("admin");
        var (status, body, _) = await admin.SendAsync(HttpMethod.Post, "/api/v1/devices", new { id = NewId.At(host.Clock.GetCurrentInstant()), name, station, tail });
        return status == 200 ? body!["code"]!.GetValue<string>() : throw new InvalidOperationException($"{status} {body}");
    }

    public static async Task<Tablet> EnrolledAsync(DrainboardHost host, string? tail = null, string? station = null)
    {
        var tablet = Of(host);
        var (status, body, _) = await tablet.SendAsync(HttpMethod.Post, "/api/v1/devices/this/enrolment", new { code = await CodeAsync(host, tail: tail, station: station) });
        return status == 200 ? tablet : throw new InvalidOperationException($"{status} {body}");
    }

    public async Task<(int Status, JsonNode? Body)> SignInAsync(string userName, string pin = SmallFleet.Pin)
    {
        _ticket = null;
        var (status, body, _) = await SendAsync(HttpMethod.Post, "/api/v1/devices/this/sign-in", new { userName, pin });
        _ticket = status == 200 ? body!["ticket"]!.GetValue<string>() : null;
        return (status, body);
    }

    public async Task<(int Status, JsonNode? Body, string? ETag)> SendAsync(HttpMethod method, string path, object? body = null, string? deviceTime = null)
    {
        using var request = new HttpRequestMessage(method, new Uri(path, UriKind.Relative)) { Content = body is null ? null : JsonContent.Create(body) };
        if (_ticket is not null)
        {
            request.Headers.Add("X-Crew-Ticket", _ticket);
        }

        if (deviceTime is not null)
        {
            request.Headers.Add("X-Device-Time", deviceTime);
        }

        using var answer = await _client.SendAsync(request);
        var text = await answer.Content.ReadAsStringAsync();
        return ((int)answer.StatusCode, answer.Content.Headers.ContentType?.MediaType?.EndsWith("json", StringComparison.Ordinal) == true ? JsonNode.Parse(text) : null, null);
    }

    /// <summary>Shows another tablet's ticket at this one.</summary>
    public void Borrow(Tablet other) => _ticket = other._ticket;

    public void Dispose() => _client.Dispose();
}
