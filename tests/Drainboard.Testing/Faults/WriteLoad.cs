using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net.Http.Json;
using System.Text.Json.Nodes;
using Drainboard.Domain;
using NodaTime;

namespace Drainboard.Testing.Faults;

/// <summary>
/// Clients that write without a pause: reports with ids of their own, and corrections of a few defects that they all want at once. One that hears
/// no answer, or that the service cannot just now, sends the same again until it is answered, as an outbox does.
/// </summary>
public sealed class WriteLoad : IDisposable
{
    private const string Tail = "QQ-TSB";
    private static readonly string[] Sinks = ["K-1", "K-2", "B-A"];
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    private readonly Func<int, Uri> _where;
    private readonly HttpClient _crew;
    private readonly HttpClient _technician;
    private readonly ConcurrentBag<Operation> _operations = [];
    private readonly ConcurrentBag<Guid> _acknowledged = [];
    private readonly ConcurrentBag<Guid> _sent = [];
    private readonly ConcurrentBag<string> _strange = [];
    private readonly Dictionary<Guid, long> _registers = [];
    private volatile Guid[] _wanted = [];
    private int _again;

    /// <param name="where">The address that a client sends its next request to.</param>
    /// <param name="crewKey">Who reports.</param>
    /// <param name="technicianKey">Who corrects.</param>
    public WriteLoad(Func<int, Uri> where, string crewKey, string technicianKey)
    {
        _where = where;
        (_crew, _technician) = (ClientOf(crewKey), ClientOf(technicianKey));
    }

    /// <summary>Reports that were answered as taken in.</summary>
    public IReadOnlyCollection<Guid> Acknowledged => _acknowledged;

    /// <summary>Every report that was sent at all.</summary>
    public IReadOnlyCollection<Guid> Sent => _sent;

    /// <summary>Answers that no client should ever get.</summary>
    public IReadOnlyCollection<string> Strange => _strange;

    public int Operations => _operations.Count;

    /// <summary>How often something had to be sent again.</summary>
    public int SentAgain => _again;

    /// <summary>Reports the defects that clients will correct, all before anything else happens.</summary>
    public async Task PrepareAsync(int registers)
    {
        for (var number = 0; number < registers; number++)
        {
            var defect = await ReportAsync(0, NewId.At(SystemClock.Instance.GetCurrentInstant()), "QQ-TSA", Sinks[number % Sinks.Length]) ?? throw new InvalidOperationException(string.Join("; ", _strange));
            _registers[defect] = 0;
        }

        // Only now: a later report at the same fixture can change what an earlier one is flagged as.
        foreach (var defect in _registers.Keys.ToArray())
        {
            _registers[defect] = (await ReadAsync(0, defect)).Version;
        }

        Want(0);
    }

    /// <summary>From now on these few are corrected: a story that grows without end would measure something else.</summary>
    public void Want(int from) => _wanted = [.. _registers.Keys.Skip(from % Math.Max(1, _registers.Count - 3)).Take(4)];

    public Task RunAsync(int clients, int seed, CancellationToken stop) => Task.WhenAll(Enumerable.Range(0, clients).Select(client => Task.Run(() => OneClientAsync(client, new Random(seed + client), stop), CancellationToken.None)));

    /// <summary>Reads every defect once more, when nobody writes any longer: what was corrected last must still be there.</summary>
    public async Task ReadAllAsync()
    {
        foreach (var defect in _registers.Keys)
        {
            _operations.Add(await ReadAsync(0, defect));
        }
    }

    /// <summary>What is wrong with what the clients saw of each defect.</summary>
    public IReadOnlyList<string> Check() =>
        [.. _operations.GroupBy(one => one.Key).SelectMany(group => Histories.Check(_registers[group.Key], group).Select(fault => $"{group.Key}: {fault}"))];

    public void Dispose()
    {
        _crew.Dispose();
        _technician.Dispose();
    }

    private async Task OneClientAsync(int client, Random dice, CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            if (dice.Next(2) == 0)
            {
                await ReportAsync(client, NewId.At(SystemClock.Instance.GetCurrentInstant()), Tail, Sinks[dice.Next(Sinks.Length)]);
            }
            else
            {
                await CorrectAsync(client, _wanted[dice.Next(_wanted.Length)]);
            }
        }
    }

    /// <returns>The defect that stands now, or null where the answer was strange.</returns>
    private async Task<Guid?> ReportAsync(int client, Guid id, string tail, string position)
    {
        _sent.Add(id);
        var (status, body) = await SendAsync(client, _crew, HttpMethod.Post, "/api/v1/reports", new { id, tail, position, symptom = "drainsSlowly", leak = "noneSeen", seenAt = SystemClock.Instance.GetCurrentInstant().ToString(), words = $"{id}" });
        if (status == 201)
        {
            _acknowledged.Add(id);
            return body!["id"]!.GetValue<Guid>();
        }

        _strange.Add($"report: {status} {body}");
        return null;
    }

    private async Task CorrectAsync(int client, Guid defect)
    {
        var read = await ReadAsync(client, defect);
        _operations.Add(read);
        var (value, began) = ($"{NewId.At(SystemClock.Instance.GetCurrentInstant())}", Stopwatch.GetTimestamp());
        var (status, body) = await SendAsync(client, _technician, HttpMethod.Post, $"/api/v1/defects/{defect}/corrections", new { words = value }, read.Version);
        var ended = Stopwatch.GetTimestamp();
        switch (status)
        {
            case 200:
                _operations.Add(new Operation(defect, OperationKind.Written, began, ended, read.Version, body!["version"]!.GetValue<long>(), value));
                break;
            case 412:
                _operations.Add(new Operation(defect, OperationKind.Stale, began, ended, read.Version, read.Version, ""));
                break;
            default:
                _strange.Add($"correction: {status} {body}");
                break;
        }
    }

    private async Task<Operation> ReadAsync(int client, Guid defect)
    {
        var began = Stopwatch.GetTimestamp();
        var (_, body) = await SendAsync(client, _technician, HttpMethod.Get, $"/api/v1/defects/{defect}", null);
        var last = body!["story"]!.AsArray().LastOrDefault(entry => entry!["kind"]!.GetValue<string>() == "defect.corrected")?["words"]!.GetValue<string>() ?? "";
        return new Operation(defect, OperationKind.Read, began, Stopwatch.GetTimestamp(), 0, body["version"]!.GetValue<long>(), last.Split(": ")[^1]);
    }

    private async Task<(int Status, JsonNode? Body)> SendAsync(int client, HttpClient who, HttpMethod method, string path, object? body, long? seen = null)
    {
        var key = $"{NewId.At(SystemClock.Instance.GetCurrentInstant())}";
        for (var watch = Stopwatch.StartNew(); ; Interlocked.Increment(ref _again))
        {
            try
            {
                using var request = new HttpRequestMessage(method, new Uri(_where(client), path)) { Content = body is null ? null : JsonContent.Create(body) };
                // A report carries its own id; a correction needs a key, to be answered and not refused when it is sent again.
                if (seen is not null)
                {
                    request.Headers.Add("Idempotency-Key", key);
                    request.Headers.TryAddWithoutValidation("If-Match", $"\"{seen}\"");
                }

                using var answer = await who.SendAsync(request);
                var text = await answer.Content.ReadAsStringAsync();
                if ((int)answer.StatusCode is < 500 and not 409)
                {
                    return ((int)answer.StatusCode, text.Length == 0 ? null : JsonNode.Parse(text));
                }

                if ((int)answer.StatusCode == 500)
                {
                    _strange.Add($"{method} {path}: 500 {text}");
                }
            }
            catch (Exception failure) when (failure is (HttpRequestException or TaskCanceledException or IOException or System.Net.Sockets.SocketException) && watch.Elapsed < Patience)
            {
                // No answer came, or half of one.
            }

            await Task.Delay(100);
        }
    }

    private static HttpClient ClientOf(string key)
    {
        var client = new HttpClient(new SocketsHttpHandler { PooledConnectionIdleTimeout = TimeSpan.FromSeconds(2), UseCookies = false }) { Timeout = TimeSpan.FromSeconds(20) };
        client.DefaultRequestHeaders.Add("X-Api-Key", key);
        return client;
    }
}
