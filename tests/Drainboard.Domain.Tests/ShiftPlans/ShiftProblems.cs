using Drainboard.Domain.ShiftPlans;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.ShiftPlans;

/// <summary>Published instances as shift problems, and random small ones.</summary>
internal static class ShiftProblems
{
    /// <summary>Twelve windowed tasks, two technicians, weight 79; the optimum 70 was found by dynamic programming over subsets and by a constraint solver (reference set 14).</summary>
    public static ShiftPlanProblem TwoTechnicians()
    {
        var one = Vector.Read("14_scheduling").GetProperty("technician_windows");
        return new ShiftPlanProblem(
            [.. one.GetProperty("technicians").EnumerateArray().Select(who => new PlanTechnician(who.GetProperty("id").GetString()!, who.GetProperty("shift")[0].GetInt32(), who.GetProperty("shift")[1].GetInt32(), [.. who.GetProperty("skills").EnumerateArray().Select(skill => skill.GetString()!)]))],
            [.. one.GetProperty("tasks").EnumerateArray().Select(task => new PlanTask(task.GetProperty("id").GetString()!, task.GetProperty("duration").GetInt32(), task.GetProperty("weight").GetInt32(), task.GetProperty("skill").GetString()!, task.GetProperty("release").GetInt32(), task.GetProperty("due").GetInt32()))],
            0);
    }

    /// <summary>One machine, jobs with due times, as many on time as can be: J. M. Moore 1968 with Hodgson's algorithm. The fewest late is given beside each instance.</summary>
    public static IEnumerable<(ShiftPlanProblem Problem, int OnTime)> MooreHodgson()
    {
        foreach (var (name, jobs) in new[] { ("wolfram10", "jobs_id_p_d"), ("pinedo_3_3_3", "jobs_id_p_d") })
        {
            var one = Vector.Read("14_scheduling").GetProperty(name);
            var tasks = one.GetProperty(jobs).EnumerateArray().Select(job => new PlanTask($"J{job[0].GetInt32()}", job[1].GetInt32(), 1, "any", 0, job[2].GetInt32())).ToArray();
            yield return (new ShiftPlanProblem([new PlanTechnician("M", 0, 10_000, ["any"])], tasks, 0), tasks.Length - one.GetProperty("min_late").GetInt32());
        }
    }

    /// <summary>R. L. Graham's worst cases for the longest first (1969): all jobs fit the optimal makespan, and not a minute less.</summary>
    public static IEnumerable<(ShiftPlanProblem InTime, ShiftPlanProblem OneLess)> Graham()
    {
        foreach (var one in Vector.Read("14_scheduling").GetProperty("graham_lpt").EnumerateArray())
        {
            yield return (Within(one.GetProperty("opt").GetInt32()), Within(one.GetProperty("opt").GetInt32() - 1));

            ShiftPlanProblem Within(int minutes) => new(
                [.. Enumerable.Range(1, one.GetProperty("m").GetInt32()).Select(number => new PlanTechnician($"M{number}", 0, minutes, ["any"]))],
                [.. one.GetProperty("p").EnumerateArray().Select((p, at) => new PlanTask($"J{at}", p.GetInt32(), 1, "any", 0, minutes))], 0);
        }
    }

    /// <summary>Small, with everything in it that a plan knows: skills, walking, shared access, order, pins, changes.</summary>
    public static ShiftPlanProblem Random(Random random)
    {
        PlanTechnician[] people = [.. Enumerable.Range(1, random.Next(1, 3)).Select(number => new PlanTechnician($"T{number}", random.Next(0, 20), random.Next(80, 160), random.Next(3) == 0 ? ["a"] : ["a", "b"]))];
        PlanTask[] tasks =
        [
            .. Enumerable.Range(1, random.Next(3, 6)).Select(number =>
            {
                var from = random.Next(0, 80);
                return new PlanTask($"K{number}", random.Next(5, 40), random.Next(1, 10), random.Next(2) == 0 ? "a" : "b", from, from + random.Next(10, 90))
                {
                    Stand = random.Next(3) == 0 ? "" : $"S{random.Next(1, 3)}",
                    Access = random.Next(4) == 0 ? "panel" : "",
                    After = number > 1 && random.Next(4) == 0 ? [$"K{random.Next(1, number)}"] : [],
                    Barred = random.Next(6) == 0 ? ["T1"] : [],
                    PinnedTo = random.Next(8) == 0 ? "T1" : null,
                };
            }),
        ];
        return new ShiftPlanProblem(people, tasks, random.Next(2) * random.Next(1, 12));
    }
}
