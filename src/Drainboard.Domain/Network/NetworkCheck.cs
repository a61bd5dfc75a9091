namespace Drainboard.Domain.Network;

/// <summary>Checks a plan without looking at how it was made.</summary>
public static class NetworkCheck
{
    /// <returns>What does not hold, in words; empty where all holds.</returns>
    public static IReadOnlyList<string> Faults(NetworkProblem problem, IReadOnlyCollection<NetworkAssignment> assigned)
    {
        var (items, faults, used) = (problem.Items.ToDictionary(item => item.Id), new List<string>(), new Dictionary<string, int>());
        foreach (var twice in assigned.GroupBy(one => one.Item).Where(group => group.Count() > 1))
        {
            faults.Add($"{twice.Key} is planned {twice.Count()} times.");
        }

        foreach (var one in assigned)
        {
            if (!items.TryGetValue(one.Item, out var item))
            {
                faults.Add($"{one.Item} is not at stake.");
                continue;
            }

            if (item.Options.FirstOrDefault(option => option.Stay == one.Stay) is not { } option)
            {
                faults.Add($"{one.Item} cannot be taken in the stay it is planned for.");
                continue;
            }

            foreach (var name in option.Draws)
            {
                used[name] = used.GetValueOrDefault(name) + option.Minutes;
            }
        }

        faults.AddRange(used.Where(one => one.Value > problem.Capacities.GetValueOrDefault(one.Key)).OrderBy(one => one.Key, StringComparer.Ordinal).Select(one => $"{one.Key} has {problem.Capacities.GetValueOrDefault(one.Key)} min; {one.Value} are planned."));
        return faults;
    }
}
