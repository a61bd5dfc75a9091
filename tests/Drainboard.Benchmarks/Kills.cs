using System.Globalization;
using Drainboard.Testing.Faults;

namespace Drainboard.Benchmarks;

/// <summary>The long form of the campaign of kills; its short form is a test.</summary>
internal static class Kills
{
    public static async Task<int> RunAsync(string victim, string[] args)
    {
        var who = victim switch { "embedded" => Victim.EmbeddedProcess, "web" => Victim.WebProcess, "postgres" => Victim.Postgres, _ => throw new ArgumentException($"\"{victim}\": embedded, web or postgres") };
        var numbers = args.Select(text => int.Parse(text, CultureInfo.InvariantCulture)).ToArray();
        var (kills, seed) = (numbers.ElementAtOrDefault(0) is var many and > 0 ? many : 200, numbers.ElementAtOrDefault(1) is var given and > 0 ? given : 20261127);
        var (counts, faults) = await new KillCampaign(who, kills, seed, new Progress<string>(Console.WriteLine)).RunAsync();
        Console.WriteLine($"| {victim} | {seed} | {counts.Kills} | {counts.Reports} | {counts.Operations} | {counts.SentAgain} | {counts.Warnings} | {counts.SlowestReturn.TotalSeconds:0.0} s | {faults.Count} |");
        foreach (var fault in faults.Take(40))
        {
            Console.WriteLine(fault);
        }

        return faults.Count == 0 ? 0 : 1;
    }
}
