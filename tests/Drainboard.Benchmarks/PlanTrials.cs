using Drainboard.Domain.ShiftPlans;
using Drainboard.Planning;

namespace Drainboard.Benchmarks;

/// <summary>Seeded shifts of a large station: how near to the bound the solver comes in so many seconds, and how much better it is than the greedy plan.</summary>
internal static class PlanTrials
{
    private const int Instances = 20;
    private const int Items = 150;
    private const int Turns = 60;
    private const int Technicians = 12;
    private const int Shift = 600;

    public static int Run()
    {
        var seconds = new[] { 1.0, 5, 10 };
        var gaps = seconds.Select(_ => new List<double>()).ToArray();
        var ratios = seconds.Select(_ => new List<double>()).ToArray();
        for (var seed = 1; seed <= Instances; seed++)
        {
            var problem = Make(new Random(seed));
            var greedy = GreedyPlan.Make(problem);
            for (var at = 0; at < seconds.Length; at++)
            {
                var plan = ShiftPlanner.Solve(problem, seconds[at], null, CancellationToken.None);
                if (ShiftPlanCheck.Faults(problem, plan.Assigned) is [var fault, ..])
                {
                    Console.WriteLine($"seed {seed}: {fault}");
                    return 1;
                }

                gaps[at].Add(plan.Gap);
                ratios[at].Add((double)plan.Objective / greedy.Objective);
            }

            Console.WriteLine($"seed {seed}: greedy {greedy.Objective} of {problem.Tasks.Sum(task => task.Weight)}; {string.Join(", ", seconds.Select((second, at) => $"{second:0} s {100 * gaps[at][^1]:0.0} % gap, {ratios[at][^1]:0.000} of greedy"))}");
        }

        for (var at = 0; at < seconds.Length; at++)
        {
            Console.WriteLine($"{seconds[at]:0} s: gap median {100 * Median(gaps[at]):0.0} %, worst {100 * gaps[at].Max():0.0} %; worth against the greedy plan median {Median(ratios[at]):0.000}, least {ratios[at].Min():0.000}");
        }

        return 0;
    }

    private static ShiftPlanProblem Make(Random random)
    {
        string[] skills = ["drains", "toilets", "potable"];
        var turns = Enumerable.Range(0, Turns).Select(turn => (Stand: $"S{random.Next(1, 29)}", From: random.Next(0, Shift - 60), Long: random.Next(3) == 0)).ToArray();
        PlanTechnician[] people = [.. Enumerable.Range(1, Technicians).Select(number => new PlanTechnician($"T{number}", random.Next(0, 90), Shift - random.Next(0, 90), [.. skills.Where(_ => random.Next(3) > 0).DefaultIfEmpty("drains")]))];
        PlanTask[] tasks =
        [
            .. Enumerable.Range(1, Items).Select(number =>
            {
                var at = random.Next(Turns);
                var (stand, from, isLong) = turns[at];
                var minutes = random.Next(4) == 0 ? random.Next(30, 75) : random.Next(10, 28);
                var opens = from + 10;
                return new PlanTask($"K{number}", minutes, random.Next(4) == 0 ? random.Next(40, 90) : random.Next(8, 30), skills[random.Next(3)], opens, opens + Math.Max(minutes, isLong ? random.Next(60, 150) : random.Next(20, 45))) { Stand = $"{stand} {at}", Access = random.Next(6) == 0 ? $"panel {at}" : "" };
            }),
        ];
        return new ShiftPlanProblem(people, tasks, 6);
    }

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);
}
