using Drainboard.Domain.Network;

namespace Drainboard.Domain.Tests.Network;

/// <summary>Problems of the network's size and of a size that can be tried out, seeded.</summary>
internal static class NetworkProblems
{
    /// <summary>Horowitz and Sahni, job sequencing with deadlines (from memory): profits 100, 10, 15, 27, deadlines 2, 1, 2, 1, one unit of time each; best 127, by the first and the fourth.</summary>
    public static NetworkProblem Deadlines { get; } = new(
        [.. new (string Id, int Profit, int Deadline)[] { ("1", 100, 2), ("2", 10, 1), ("3", 15, 2), ("4", 27, 1) }.Select(job => new NetworkItem(job.Id, [.. Enumerable.Range(1, job.Deadline).Select(slot => new NetworkOption($"slot {slot}", 1, job.Profit / 100.0, 0, [$"slot {slot}"]))]))],
        new Dictionary<string, int> { ["slot 1"] = 1, ["slot 2"] = 1 });

    public static NetworkProblem Random(Random random, int items = 7, int stays = 4)
    {
        var options = Enumerable.Range(0, items).Select(item => new NetworkItem($"I{item}", [.. Enumerable.Range(0, stays).Where(_ => random.NextDouble() < 0.5).Select(stay => new NetworkOption($"S{stay}", random.Next(10, 60), Math.Round(random.Next(70, 100) / 100.0, 2), stay / 2, [$"S{stay}", $"D{stay / 2}"]))])).ToArray();
        return new NetworkProblem(options, Enumerable.Range(0, stays).Select(stay => $"S{stay}").Concat(Enumerable.Range(0, (stays + 1) / 2).Select(day => $"D{day}")).ToDictionary(name => name, _ => random.Next(30, 130)))
        {
            Told = random.Next(2) == 0 ? new Dictionary<string, string>() : options.Where(item => item.Options.Count > 1).Take(2).ToDictionary(item => item.Id, item => item.Options[^1].Stay),
        };
    }

    /// <summary>The best by trying everything: fewest late, then the most points.</summary>
    public static (int Late, int Points) Best(NetworkProblem problem) => Try(problem, 0, problem.Capacities.ToDictionary(), 0, 0);

    private static (int Late, int Points) Try(NetworkProblem problem, int at, Dictionary<string, int> left, int late, int points)
    {
        if (at == problem.Items.Count)
        {
            return (late, points);
        }

        var item = problem.Items[at];
        var best = Try(problem, at + 1, left, late + 1, points);
        for (var option = 0; option < item.Options.Count; option++)
        {
            var one = item.Options[option];
            if (one.Draws.All(name => left[name] >= one.Minutes))
            {
                foreach (var name in one.Draws)
                {
                    left[name] -= one.Minutes;
                }

                var found = Try(problem, at + 1, left, late, points + problem.PointsOf(item, option));
                best = found.Late < best.Late || (found.Late == best.Late && found.Points > best.Points) ? found : best;
                foreach (var name in one.Draws)
                {
                    left[name] += one.Minutes;
                }
            }
        }

        return best;
    }
}
