namespace Drainboard.Domain.Network;

/// <summary>A plan without a solver: who has the fewest stays to choose from is planned first, each in the stay that was told or the first that has room. Serves where there is no solver, and is what the solver begins from.</summary>
public static class FirstRoom
{
    public static NetworkPlan Plan(NetworkProblem problem)
    {
        var (left, stays) = (problem.Capacities.ToDictionary(), new Dictionary<string, string>());
        foreach (var item in problem.Items.Where(item => item.Options.Count > 0).OrderBy(item => item.Options.Count).ThenBy(item => item.Id, StringComparer.Ordinal))
        {
            var told = problem.Told.GetValueOrDefault(item.Id);
            if (item.Options.OrderByDescending(option => option.Stay == told).FirstOrDefault(option => option.Draws.All(name => left.GetValueOrDefault(name) >= option.Minutes)) is { } option)
            {
                stays[item.Id] = option.Stay;
                foreach (var name in option.Draws)
                {
                    left[name] -= option.Minutes;
                }
            }
        }

        return NetworkPlan.Of(problem, stays);
    }
}
