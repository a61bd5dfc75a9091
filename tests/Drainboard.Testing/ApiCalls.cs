using System.Net.Http.Json;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Drainboard.Testing;

/// <summary>The few calls that API tests make again and again, with the headers that belong to them.</summary>
public static class ApiCalls
{
    private static readonly JsonSerializerOptions Web = new(JsonSerializerDefaults.Web);

    public static async Task<JsonNode> ReadAsync(this HttpClient client, string path)
    {
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative));
        var text = await answer.Content.ReadAsStringAsync();
        return answer.IsSuccessStatusCode ? JsonNode.Parse(text)! : throw new HttpRequestException($"GET {path}: {(int)answer.StatusCode} {text}");
    }

    public static async Task<(int Status, JsonNode? Body, string? ETag)> SendAsync(this HttpClient client, HttpMethod method, string path, object? body, string? ifMatch = null, string? key = null, bool ifNoneMatch = false)
    {
        using var request = new HttpRequestMessage(method, new Uri(path, UriKind.Relative)) { Content = body is null ? null : JsonContent.Create(body, options: Web) };
        if (ifMatch is not null)
        {
            request.Headers.TryAddWithoutValidation("If-Match", ifMatch);
        }

        if (ifNoneMatch)
        {
            request.Headers.TryAddWithoutValidation("If-None-Match", "*");
        }

        if (key is not null)
        {
            request.Headers.Add("Idempotency-Key", key);
        }

        using var answer = await client.SendAsync(request);
        var text = await answer.Content.ReadAsStringAsync();
        return ((int)answer.StatusCode, answer.Content.Headers.ContentType?.MediaType?.EndsWith("json", StringComparison.Ordinal) == true ? JsonNode.Parse(text) : null, answer.Headers.ETag?.Tag);
    }

    /// <summary>Posts a question and reads its answer.</summary>
    public static async Task<JsonNode> MustAsync(this HttpClient client, string path, object body)
    {
        var (status, answer, _) = await client.SendAsync(HttpMethod.Post, path, body);
        return status == 200 ? answer! : throw new HttpRequestException($"POST {path}: {status} {answer?.ToJsonString()}");
    }

    /// <summary>Posts to a defect with the version that stands now.</summary>
    public static async Task<(int Status, JsonNode? Body, string? ETag)> ActAsync(this HttpClient client, string defect, string act, object body)
    {
        var version = (await client.ReadAsync($"/api/v1/defects/{defect}"))["version"]!.GetValue<long>();
        return await client.SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/{act}", body, $"\"{version}\"");
    }
}
