namespace Drainboard.Domain.ShiftPlans;

/// <summary>Checks any plan against its problem, whoever made it: independent of every planner.</summary>
public static class ShiftPlanCheck
{
    /// <summary>Everything that is wrong, in words; empty where the plan holds. Touching is no overlap.</summary>
    public static IReadOnlyList<string> Faults(ShiftPlanProblem problem, IReadOnlyCollection<PlanAssignment> assigned)
    {
        var faults = new List<string>();
        var (tasks, people) = (problem.Tasks.ToDictionary(task => task.Id), problem.Technicians.ToDictionary(one => one.Id));
        faults.AddRange(assigned.GroupBy(one => one.Task).Where(same => same.Count() > 1).Select(same => $"{same.Key} is planned {same.Count()} times."));
        foreach (var one in assigned.Where(one => !tasks.ContainsKey(one.Task) || !people.ContainsKey(one.Technician)))
        {
            faults.Add($"{one.Task} for {one.Technician}: no such task or technician.");
        }

        var known = assigned.Where(one => tasks.ContainsKey(one.Task) && people.ContainsKey(one.Technician)).DistinctBy(one => one.Task).Select(one => (Task: tasks[one.Task], Who: people[one.Technician], one.Start, End: one.Start + tasks[one.Task].Minutes)).ToArray();
        foreach (var one in known)
        {
            var (first, last) = one.Task.Starts(one.Who);
            if (!one.Task.MayBeDoneBy(one.Who))
            {
                faults.Add($"{one.Who.Id} may not do {one.Task.Id}.");
            }
            else if (one.Start < first || one.Start > last)
            {
                faults.Add($"{one.Task.Id} begins at {one.Start}; {one.Who.Id} could begin it from {first} to {last}.");
            }

            foreach (var before in one.Task.After.Where(before => !known.Any(other => other.Task.Id == before && other.End <= one.Start)))
            {
                faults.Add($"{one.Task.Id} begins before {before} is done.");
            }
        }

        foreach (var hand in known.GroupBy(one => one.Who.Id))
        {
            var ordered = hand.OrderBy(one => one.Start).ThenBy(one => one.End).ToArray();
            faults.AddRange(ordered.Zip(ordered.Skip(1)).Where(pair => pair.Second.Start < pair.First.End + problem.WalkBetween(pair.First.Task, pair.Second.Task)).Select(pair => $"{hand.Key} cannot be at {pair.Second.Task.Id} at {pair.Second.Start}: {pair.First.Task.Id} ends at {pair.First.End}."));
        }

        foreach (var place in known.Where(one => one.Task.Access.Length > 0).GroupBy(one => one.Task.Access))
        {
            var ordered = place.OrderBy(one => one.Start).ThenBy(one => one.End).ToArray();
            faults.AddRange(ordered.Zip(ordered.Skip(1)).Where(pair => pair.Second.Start < pair.First.End).Select(pair => $"{pair.First.Task.Id} and {pair.Second.Task.Id} need {place.Key} at once."));
        }

        return faults;
    }
}
