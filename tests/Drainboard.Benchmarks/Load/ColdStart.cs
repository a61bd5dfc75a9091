using System.Diagnostics;
using Drainboard.Testing.Processes;

namespace Drainboard.Benchmarks.Load;

/// <summary>From the start of the program until the sign-in page and a Board are answered: first with an empty folder, then with the demo there; and how large the published program is.</summary>
internal static class ColdStart
{
    private const int Runs = 5;

    public static async Task<int> RunAsync()
    {
        var folder = Directory.CreateTempSubdirectory("drainboard-start-").FullName;
        var program = Path.Combine(folder, "program");
        await Programs.RunAsync("dotnet", "publish", Path.Combine(Repository.Root, "src", "Drainboard.Web"), "-c", "Release", "-o", program, "-v", "q", "--nologo");
        var size = Directory.EnumerateFiles(program, "*", SearchOption.AllDirectories).Sum(file => new FileInfo(file).Length);
        Console.WriteLine(FormattableString.Invariant($"published: {size / 1048576} MiB, of it for other systems and processors {Directory.EnumerateDirectories(Path.Combine(program, "runtimes")).Where(system => Path.GetFileName(system) is not ("linux-x64" or "unix")).SelectMany(system => Directory.EnumerateFiles(system, "*", SearchOption.AllDirectories)).Sum(file => new FileInfo(file).Length) / 1048576} MiB"));
        var (firsts, agains) = (new List<double>(), new List<double>());
        for (var run = 1; run <= Runs; run++)
        {
            var data = Path.Combine(folder, $"{run}");
            firsts.Add(await OnceAsync(program, data));
            agains.Add(await OnceAsync(program, data));
        }

        Console.WriteLine(FormattableString.Invariant($"empty folder, demo made: median {RawResults.Quantile(firsts, 0.5):0.0} s; with data: median {RawResults.Quantile(agains, 0.5):0.0} s, worst {agains.Max():0.0} s; {Runs} runs, to the first Board's answer"));
        Directory.Delete(folder, recursive: true);
        return 0;
    }

    private static async Task<double> OnceAsync(string program, string data)
    {
        await using var web = new WebProcess(Path.Combine(program, "Drainboard.Web.dll"), data);
        var watch = Stopwatch.StartNew();
        await web.StartAsync();
        using var client = new HttpClient { BaseAddress = web.Address };
        client.DefaultRequestHeaders.Add("X-Api-Key", (await File.ReadAllTextAsync(Path.Combine(data, "demo-api-key.txt"))).Trim());
        using var answer = await client.GetAsync(new Uri("/api/v1/board/QQMB", UriKind.Relative));
        answer.EnsureSuccessStatusCode();
        return watch.Elapsed.TotalSeconds;
    }
}
