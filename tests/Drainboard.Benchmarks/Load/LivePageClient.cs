using System.Collections.Concurrent;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.SignalR.Client;
using Microsoft.AspNetCore.SignalR.Protocol;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Benchmarks.Load;

/// <summary>A live page without a browser: it loads the page, opens its circuit as the framework's script does, acknowledges what is drawn, and notes what comes when.</summary>
internal sealed partial class LivePageClient : IAsyncDisposable
{
    private readonly HubConnection _line;
    private readonly ConcurrentQueue<(Instant At, byte[] Content)> _sent = [];
    private readonly TaskCompletionSource _drawn = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private LivePageClient(HubConnection line) => _line = line;

    /// <param name="cookies">Those of somebody who is signed in.</param>
    public static async Task<LivePageClient> OpenAsync(HttpClient http, Uri page, string cookies)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, page);
        request.Headers.Add("Cookie", cookies);
        using var answer = await http.SendAsync(request);
        var html = await answer.EnsureSuccessStatusCode().Content.ReadAsStringAsync();
        var line = new HubConnectionBuilder().WithUrl(new Uri(page, "/_blazor"), options => options.Headers["Cookie"] = cookies);
        line.Services.AddSingleton<IHubProtocol, BlazorPack>();
        var client = new LivePageClient(line.Build());
        await client.StartAsync(page, html);
        return client;
    }

    /// <summary>Forgets what was sent to it so far.</summary>
    public void Forget() => _sent.Clear();

    /// <summary>When a text was first sent to it, null where it was not.</summary>
    public Instant? SentAt(string text) => _sent.Where(one => one.Content.AsSpan().IndexOf(Encoding.UTF8.GetBytes(text)) >= 0).Select(one => (Instant?)one.At).Min();

    public ValueTask DisposeAsync() => _line.DisposeAsync();

    private async Task StartAsync(Uri page, string html)
    {
        _line.On<long, byte[]>("JS.RenderBatch", DrawAsync);
        _line.On<long, string, string, int, long, int>("JS.BeginInvokeJS", (call, _, _, _, _, _) => call == 0 ? Task.CompletedTask : _line.SendAsync("EndInvokeJSFromDotNet", call, true, $"[{call},true,null]"));
        _line.On<int, string>("JS.AttachComponent", (_, _) => { });
        _line.On<long>("JS.EndUpdateRootComponents", _ => { });
        _line.On<string>("JS.Error", words => _drawn.TrySetException(new InvalidOperationException(words)));
        await _line.StartAsync();
        await _line.InvokeAsync<string>("StartCircuit", new Uri(page, "/").ToString(), page.ToString(), "[]", State().Match(html).Groups["state"].Value);
        var components = Marker().Matches(html).Select(found => JsonNode.Parse(found.Groups["marker"].Value)!).Where(marker => (string?)marker["type"] == "server")
            .Select((marker, number) => new JsonObject { ["type"] = "add", ["ssrComponentId"] = number + 1, ["marker"] = marker });
        await _line.SendAsync("UpdateRootComponents", new JsonObject { ["batchId"] = 1, ["operations"] = new JsonArray([.. components]) }.ToJsonString(), State().Match(html).Groups["state"].Value);
        await _drawn.Task.WaitAsync(TimeSpan.FromSeconds(30));
    }

    private Task DrawAsync(long batch, byte[] content)
    {
        _sent.Enqueue((SystemClock.Instance.GetCurrentInstant(), content));
        _drawn.TrySetResult();
        return _line.SendAsync("OnRenderCompleted", batch, null);
    }

    [GeneratedRegex("<!--Blazor:(?<marker>\\{.*?\\})-->", RegexOptions.Singleline)]
    private static partial Regex Marker();

    [GeneratedRegex("<!--Blazor-Server-Component-State:(?<state>[a-zA-Z0-9+/=]+)-->")]
    private static partial Regex State();
}
