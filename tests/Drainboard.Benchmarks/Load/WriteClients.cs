using System.Collections.Concurrent;
using System.Diagnostics;
using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Fleet;
using Drainboard.Testing;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Benchmarks.Load;

/// <summary>Clients that report, and that tick the steps of work cards, each on tails and jobs of its own, over HTTP with a key.</summary>
internal sealed class WriteClients : IDisposable
{
    public const int Clients = 8;

    // So many that no fixture is written up many times over in one run, which would make each of them a repeat of all before.
    private const int Tails = 8000;
    private const int Steps = 12;
    private static readonly string[] Sinks = ["K-1", "K-2", "B-A"];

    private readonly HttpClient _crew;
    private readonly HttpClient _technician;
    private readonly HttpClient _admin;
    private readonly string[] _tails;
    private readonly Lock _one = new();
    private readonly Queue<(string Defect, int Step)> _left = new();
    private int _reported;

    private WriteClients(HttpClient crew, HttpClient technician, HttpClient admin, string[] tails) => (_crew, _technician, _admin, _tails) = (crew, technician, admin, tails);

    /// <summary>A thousand tails more than the small fleet has, and keys; the service need not run yet.</summary>
    public static async Task<WriteClients> PrepareAsync(DrainboardHost host, Uri address)
    {
        await using (var db = await host.Db.CreateDbContextAsync())
        {
            var like = await db.Tails.AsNoTracking().FirstAsync();
            db.AddRange(Enumerable.Range(0, Tails).Select(number => new Tail(new TailId(NewId.At(host.Clock.GetCurrentInstant())), Registration.Parse($"QQ-W{number:0000}"), like.Layout, [])));
            await db.SaveChangesAsync();
        }

        return new WriteClients(await ClientAsync(host, address, "crew"), await ClientAsync(host, address, "tech"), await ClientAsync(host, address, "admin"), [.. Enumerable.Range(0, Tails).Select(number => $"QQ-W{number:0000}")]);
    }

    /// <summary>A card of many steps.</summary>
    public async Task PublishAsync()
    {
        var steps = Enumerable.Range(0, Steps).Select(number => (object)new { key = $"s{number}", words = $"Do the thing with number {number}." }).Concat([new { key = "ops", words = "It runs off.", check = "opsCheck" }, new { key = "leak", words = "It is dry.", check = "leakCheck" }]);
        Must(await _admin.SendAsync(HttpMethod.Put, "/api/v1/work-cards/bench", new { id = New(), title = "Clear a strainer", manualReference = "TEST-AMM 38-31", kinds = new[] { "galleySink", "lavatoryBasin" }, families = new[] { "draining" }, steps }, ifNoneMatch: true));
    }

    /// <summary>Begins as many jobs as so many steps need.</summary>
    public async Task BeginJobsAsync(int steps)
    {
        var begun = new ConcurrentBag<string>();
        await Parallel.ForEachAsync(Enumerable.Range(0, steps / Steps), new ParallelOptions { MaxDegreeOfParallelism = Clients }, async (_, _) =>
        {
            var defect = await ReportAsync();
            Must(await _technician.ActAsync(defect, "sorting", new { symptom = "drainsSlowly", leak = "noneSeen", log = new { book = "technical", page = "1", line = "1", loggedAt = Now() } }));
            Must(await _technician.SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/job", new { id = New(), card = "bench" }));
            begun.Add(defect);
        });

        // One step of every job, then the next of every job: each is done by somebody else on another aircraft.
        foreach (var next in from step in Enumerable.Range(0, Steps) from defect in begun select (defect, step))
        {
            _left.Enqueue(next);
        }
    }

    public async Task<string> ReportAsync()
    {
        var number = Interlocked.Increment(ref _reported);
        var sent = new { id = New(), tail = _tails[number % _tails.Length], position = Sinks[number / _tails.Length % Sinks.Length], symptom = "drainsSlowly", leak = "noneSeen", seenAt = Now(), phase = "inFlight", words = "Water stands after ten minutes." };
        return Must(await _crew.SendAsync(HttpMethod.Post, "/api/v1/reports", sent, key: null))["id"]!.GetValue<string>();
    }

    /// <returns>The wish that the step was.</returns>
    public async Task<Guid> StepAsync()
    {
        (string Defect, int Step) next;
        lock (_one)
        {
            next = _left.Dequeue();
        }

        var id = New();
        Must(await _technician.SendAsync(HttpMethod.Post, $"/api/v1/defects/{next.Defect}/job/steps/s{next.Step}", new { id }));
        return id;
    }

    /// <summary>As fast as they are answered, for a while.</summary>
    /// <returns>How many were answered in a second.</returns>
    public static async Task<double> RateAsync(Func<Task> write, TimeSpan length)
    {
        var (watch, done) = (Stopwatch.StartNew(), 0);
        await Task.WhenAll(Enumerable.Range(0, Clients).Select(_ => Task.Run(async () =>
        {
            while (watch.Elapsed < length)
            {
                await write();
                Interlocked.Increment(ref done);
            }
        })));
        return done / watch.Elapsed.TotalSeconds;
    }

    public void Dispose()
    {
        _crew.Dispose();
        _technician.Dispose();
        _admin.Dispose();
    }

    private static System.Text.Json.Nodes.JsonNode Must((int Status, System.Text.Json.Nodes.JsonNode? Body, string? ETag) answer) =>
        answer.Status is 200 or 201 ? answer.Body! : throw new InvalidOperationException($"{answer.Status} {answer.Body}");

    private static Guid New() => NewId.At(SystemClock.Instance.GetCurrentInstant());

    private static string Now() => SystemClock.Instance.GetCurrentInstant().ToString();

    private static async Task<HttpClient> ClientAsync(DrainboardHost host, Uri address, string who)
    {
        var client = new HttpClient { BaseAddress = address };
        client.DefaultRequestHeaders.Add("X-Api-Key", await host.SecretForAsync(who));
        return client;
    }
}
