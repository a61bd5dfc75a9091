using System.Globalization;
using Drainboard.Testing.Faults;

namespace Drainboard.Benchmarks;

/// <summary>The long form of the campaigns of faults; their short form is a test.</summary>
internal static class Faults
{
    public static async Task<int> RunAsync(string name, string[] args)
    {
        if (!Stages.All.TryGetValue(name, out var make))
        {
            Console.Error.WriteLine($"\"{name}\" is none of {string.Join(", ", Stages.All.Keys)}.");
            return 2;
        }

        var numbers = args.Select(text => int.Parse(text, CultureInfo.InvariantCulture)).ToArray();
        var (strikes, seed) = (numbers.ElementAtOrDefault(0) is var many and > 0 ? many : 200, numbers.ElementAtOrDefault(1) is var given and > 0 ? given : 20261127);
        await using var stage = make();
        var (counts, faults) = await new FaultCampaign(stage, strikes, seed, new Progress<string>(Console.WriteLine)).RunAsync();
        Console.WriteLine($"| {stage.Name} | {seed} | {counts.Strikes} | {counts.Reports} | {counts.Operations} | {counts.SentAgain} | {counts.SlowestReturn.TotalSeconds:0.0} s | {faults.Count} |");
        foreach (var fault in faults.Take(40))
        {
            Console.WriteLine(fault);
        }

        return faults.Count == 0 ? 0 : 1;
    }
}
