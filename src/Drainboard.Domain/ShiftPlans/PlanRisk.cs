namespace Drainboard.Domain.ShiftPlans;

/// <summary>
/// The chance that each group of tasks (a departure) is done in time, when times are what they are and not what a plan counts on: sampled,
/// each technician doing the tasks in the planned order and none before its window. Same seed, same answer.
/// </summary>
public static class PlanRisk
{
    private const int Draws = 2000;
    private const int Seed = 20261126;
    private const int Points = 256;

    /// <param name="quantiles">For each task, the time that is enough with a chance.</param>
    /// <param name="groups">For each task, what it holds up; a task that is in none is not counted.</param>
    /// <returns>For each group with planned tasks, the chance that all of them end inside their windows.</returns>
    public static IReadOnlyDictionary<string, double> Of(ShiftPlanProblem problem, IReadOnlyCollection<PlanAssignment> assigned, Func<string, double, double> quantiles, IReadOnlyDictionary<string, string> groups)
    {
        var tasks = problem.Tasks.ToDictionary(task => task.Id);
        var order = assigned.OrderBy(one => one.Start).ThenBy(one => one.Task, StringComparer.Ordinal).Select(one => (Task: tasks[one.Task], one.Technician)).ToArray();
        var tables = order.Select(one => Enumerable.Range(0, Points).Select(at => quantiles(one.Task.Id, (at + 0.5) / Points)).ToArray()).ToArray();
        var held = groups.Where(group => order.Any(one => one.Task.Id == group.Key)).Select(group => group.Value).Distinct().ToDictionary(group => group, _ => 0);
        var random = new Random(Seed);
        for (var draw = 0; draw < Draws; draw++)
        {
            var (free, ended, places, late) = (new Dictionary<string, (PlanTask Task, double End)>(), new Dictionary<string, double>(), new Dictionary<string, double>(), new HashSet<string>());
            for (var at = 0; at < order.Length; at++)
            {
                var (task, who) = order[at];
                double start = task.WindowFrom;
                if (free.TryGetValue(who, out var last))
                {
                    start = Math.Max(start, last.End + problem.WalkBetween(last.Task, task));
                }

                start = task.After.Aggregate(start, (now, before) => Math.Max(now, ended.GetValueOrDefault(before)));
                start = task.Access.Length > 0 ? Math.Max(start, places.GetValueOrDefault(task.Access)) : start;
                var end = start + tables[at][random.Next(Points)];
                (free[who], ended[task.Id], places[task.Access]) = ((task, end), end, end);
                if (end > task.WindowTo && groups.TryGetValue(task.Id, out var group))
                {
                    late.Add(group);
                }
            }

            foreach (var group in held.Keys.Where(group => !late.Contains(group)).ToArray())
            {
                held[group]++;
            }
        }

        return held.ToDictionary(one => one.Key, one => (double)one.Value / Draws);
    }
}
