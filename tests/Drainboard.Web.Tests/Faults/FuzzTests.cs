using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using System.Text.Json.Nodes;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Testing.Processes;
using Drainboard.Web.Tests.Api;
using Microsoft.AspNetCore.Routing;
using static Drainboard.Web.Tests.Api.EveryEndpoint;

namespace Drainboard.Web.Tests.Faults;

/// <summary>
/// Requests that are wrong somewhere, at every endpoint: bodies that keep to the contract and say nonsense, bodies with damage, addresses and
/// conditions that are none. Never our fault (500), never a hang, and hardly more memory held at the end than at the beginning. The long form sends
/// 10,000 to each group: DRAINBOARD_FUZZ=10000.
/// </summary>
public sealed class FuzzTests
{
    private const int Seed = 20261127;
    private const long MostMemory = 512 * 1024 * 1024;
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);

    private static readonly string[] People = ["crew", "tech", "cert", "lead", "control", "pilot", "engineer", "admin", "tech.b", "admin.b"];

    // What is planned takes as long as was asked for: a few will do.
    private static readonly string[] Slow = ["solutions", "shift-plan", "snapshots", "network"];

    private static int Rounds => int.TryParse(Environment.GetEnvironmentVariable("DRAINBOARD_FUZZ"), CultureInfo.InvariantCulture, out var rounds) ? rounds : 150;

    [Fact]
    public async Task EveryGroup_AskedWronglyInEveryWay_AnswersAndNeverFails()
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.OpenAsync(host);
        var bodies = new ContractBodies(JsonNode.Parse(await File.ReadAllTextAsync(Path.Combine(Repository.Root, "docs", "openapi.json"), TestContext.Current.CancellationToken))!, host.Clock.GetCurrentInstant());
        var (wrong, answers, before) = (new List<string>(), new SortedDictionary<int, int>(), GC.GetTotalMemory(forceFullCollection: true));
        foreach (var group in Endpoints(host).GroupBy(GroupOf).OrderBy(group => group.Key, StringComparer.Ordinal))
        {
            var (dice, endpoints) = (new Random(Seed), group.ToArray());
            var rounds = Slow.Contains(group.Key) ? Math.Max(40, Rounds / 10) : Rounds;
            for (var round = 0; round < rounds && wrong.Count < 20; round++)
            {
                await AskAsync(host, endpoints[dice.Next(endpoints.Length)], defect, bodies, dice, answers, wrong);
            }
        }

        TestContext.Current.SendDiagnosticMessage(string.Join(", ", answers));
        Assert.True(wrong.Count == 0, string.Join(Environment.NewLine, wrong));
        // It gets through the doors, too: some is done, some is refused by a rule, some cannot be read.
        Assert.All(new[] { 200, 400, 403, 404, 422 }, status => Assert.True(answers.GetValueOrDefault(status) > 50, $"{status}: {string.Join(", ", answers)}"));
        // Other tests run in this process, and hold what they hold; a leak of a few KiB a request would still stand out in the long form.
        Assert.InRange(GC.GetTotalMemory(forceFullCollection: true) - before, long.MinValue, MostMemory);
    }

    /// <summary>A whole fleet's files with bytes changed, rows and columns moved: taken in or told where they are wrong.</summary>
    [Fact]
    public async Task Import_OfDamagedFiles_IsTakenOrTold()
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(DatabaseKind.Sqlite);
        var admin = await host.ClientForAsync("admin");
        var (dice, answers, faults) = (new Random(Seed), new SortedDictionary<int, int>(), 0);
        for (var round = 0; round < Rounds; round++)
        {
            var files = SmallFleet.Files(SmallFleet.Now).ToDictionary(file => file.Key, file => dice.Next(3) == 0 ? DamageRows(file.Value, dice) : file.Value);
            var (status, body, _) = await admin.SendAsync(HttpMethod.Post, "/api/v1/import", new { files, dry = dice.Next(4) > 0 });
            answers[status] = answers.GetValueOrDefault(status) + 1;
            faults += body?["faults"] is JsonArray { Count: > 0 } ? 1 : 0;
            Assert.True(status is 200 or 400 or 401 or 403 or 413 or 422, $"{status} in round {round}: {body}");
            if (status is 401 or 403)
            {
                // This import took the administrator's own role, and another is still there.
                admin = await host.ClientForAsync("admin.b");
            }
        }

        Assert.True(faults > Rounds / 4, $"{faults} of {Rounds} were told faults: {string.Join(", ", answers)}");
    }

    private static async Task AskAsync(DrainboardHost host, RouteEndpoint endpoint, string defect, ContractBodies bodies, Random dice, SortedDictionary<int, int> answers, List<string> wrong)
    {
        var client = await host.ClientForAsync(People[dice.Next(People.Length)]);
        var (method, pattern) = (Method(endpoint), "/" + endpoint.RoutePattern.RawText!.TrimStart('/'));
        var contract = System.Text.RegularExpressions.Regex.Replace(pattern, ":[a-z]+", "").TrimEnd('/');
        var sound = method == "GET" ? null : dice.Next(3) == 0 ? System.Text.Json.JsonSerializer.Serialize(await BodyAsync(host, endpoint)) : bodies.For(contract, method.ToLowerInvariant(), dice);
        var path = Fill(endpoint, defect);
        if (dice.Next(4) == 0)
        {
            var parts = path.Split('/');
            parts[dice.Next(3, parts.Length)] = Uri.EscapeDataString(Damage.Odds(dice));
            path = string.Join('/', parts);
        }

        if (dice.Next(4) == 0)
        {
            path += $"?{new[] { "from", "to", "tail", "after", "days", "kind", "state", "month", "position" }[dice.Next(9)]}={Uri.EscapeDataString(Damage.Odds(dice))}";
        }

        using var request = new HttpRequestMessage(new HttpMethod(method), new Uri(path, UriKind.Relative));
        request.Headers.TryAddWithoutValidation("If-Match", dice.Next(4) == 0 ? Damage.Odds(dice).Replace('\n', ' ') : $"\"{dice.Next(3)}\"");
        if (sound is not null)
        {
            var bytes = dice.Next(2) == 0 ? Damage.Make(sound, dice) : System.Text.Encoding.UTF8.GetBytes(sound);
            sound = System.Text.Encoding.UTF8.GetString(bytes);
            request.Content = new ByteArrayContent(bytes);
            request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        }

        var watch = Stopwatch.StartNew();
        using var ending = new CancellationTokenSource(Longest);
        try
        {
            using var answer = await client.SendAsync(request, ending.Token);
            await answer.Content.ReadAsByteArrayAsync(ending.Token);
            answers[(int)answer.StatusCode] = answers.GetValueOrDefault((int)answer.StatusCode) + 1;
            if ((int)answer.StatusCode >= 500)
            {
                wrong.Add($"{(int)answer.StatusCode}: {method} {path} {sound}");
            }
        }
        catch (OperationCanceledException)
        {
            wrong.Add($"no answer within {watch.Elapsed.TotalSeconds:0} s: {method} {path} {sound}");
        }
    }

    private static string GroupOf(RouteEndpoint endpoint) => endpoint.RoutePattern.RawText!.TrimStart('/').Split('/') is [_, _, var first, .., var last] ? Slow.Contains(last) ? last : first : endpoint.RoutePattern.RawText!.TrimStart('/').Split('/')[^1];

    private static string DamageRows(string text, Random dice)
    {
        var rows = text.Split('\n').ToList();
        switch (dice.Next(6))
        {
            case 0:
                rows.RemoveAt(dice.Next(rows.Count));
                break;
            case 1:
                rows.Insert(dice.Next(rows.Count), rows[dice.Next(rows.Count)]);
                break;
            case 2:
                var cells = rows[dice.Next(rows.Count)].Split(',');
                cells[dice.Next(cells.Length)] = Damage.Odds(dice);
                rows[dice.Next(rows.Count)] = string.Join(',', cells);
                break;
            case 3:
                rows[0] = rows[0].Replace(',', ';');
                break;
            default:
                var letters = text.ToCharArray();
                letters[dice.Next(letters.Length)] = (char)dice.Next(1, 0x2FF);
                return new string(letters);
        }

        return string.Join('\n', rows);
    }
}
