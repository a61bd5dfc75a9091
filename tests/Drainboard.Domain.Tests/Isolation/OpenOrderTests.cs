using System.Text.Json;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Isolation;

/// <summary>Which to open first (Heckerman, Breese and Rommelse 1995: probability over cost): worked vectors, and every permutation of up to eight.</summary>
public sealed class OpenOrderTests
{
    private static readonly JsonElement File = Vector.Read("11_troubleshooting_ecr");

    /// <summary>Expected minutes count observation alone; the vector's repair minutes are the same whatever the order.</summary>
    [Fact]
    public void Plan_OfTheWorkedFault_IsTheOptimalOrder()
    {
        var fault = File.GetProperty("single_fault");
        var (p, observe, repair) = (Numbers(fault, "p"), Numbers(fault, "c_observe"), Numbers(fault, "c_repair"));
        var plan = OpenOrder.Plan(Actions(p, observe), null);

        Assert.Equal(fault.GetProperty("optimal_order").EnumerateArray().Select(at => $"{at.GetInt32()}"), plan.Order);
        Assert.Equal(fault.Number("optimal_ecr"), plan.ExpectedMinutes + p.Zip(repair, (one, cost) => one * cost).Sum(), 9);
    }

    [Fact]
    public void Plan_WithADeferral_StopsAfterTheBestPrefix()
    {
        var terminal = File.GetProperty("with_terminal_action");
        foreach (var given in File.GetProperty("terminal_cost_cases").EnumerateArray())
        {
            var plan = OpenOrder.Plan(Actions(Numbers(terminal, "p"), Numbers(terminal, "c")), given.Number("Cs"));

            Assert.Equal((given.GetProperty("best_prefix_k").GetInt32(), given.Number("best_prefix_value")), (plan.StopAfter, Math.Round(plan.ExpectedMinutes, 9)));
        }
    }

    /// <summary>A rule that looks one step ahead says "defer now"; opening both is cheaper.</summary>
    [Fact]
    public void Plan_WhereEachStepAloneDoesNotPay_LooksFurther()
    {
        var trap = File.GetProperty("greedy_stop_trap");
        var plan = OpenOrder.Plan(Actions(Numbers(trap, "p"), Numbers(trap, "c")), trap.Number("Cs"));

        Assert.Equal((2, trap.GetProperty("values").Number("two_actions")), (plan.StopAfter, plan.ExpectedMinutes));
    }

    [Fact]
    public void Plan_WithASharedPanel_IsTheOptimumNotTheRatioOrder()
    {
        var cluster = File.GetProperty("cluster_access");
        var behind = cluster.GetProperty("behind_panel").EnumerateArray().Select(id => id.GetString()).ToHashSet();
        var actions = cluster.GetProperty("p").EnumerateObject().Select(one => new OpenAction(one.Name, one.Value.GetDouble(), cluster.GetProperty("c").Number(one.Name), behind.Contains(one.Name) ? "panel" : null, cluster.Number("access_cost_once"))).ToArray();

        var plan = OpenOrder.Plan(actions, null);

        Assert.Equal(cluster.Number("optimal_ecr"), plan.ExpectedMinutes, 9);
        Assert.Equal(cluster.GetProperty("optimal").EnumerateArray().Select(id => id.GetString()!), plan.Order);
    }

    [Fact]
    public void Plan_OfRandomActions_IsNeverWorseThanAnyPermutationAndPrefix()
    {
        for (var seed = 0; seed < 300; seed++)
        {
            var random = new Random(seed);
            var count = random.Next(1, seed % 10 == 0 ? 8 : 6);
            var weights = Enumerable.Range(0, count + 1).Select(_ => random.NextDouble()).ToArray();
            var actions = Enumerable.Range(0, count).Select(at => new OpenAction($"{at}", weights[at] / weights.Sum(), random.Next(0, 60), random.Next(3) == 0 ? $"P{random.Next(2)}" : null, 15)).ToArray();
            var defer = random.Next(5, 150);

            var best = Permutations(actions).SelectMany(order => Enumerable.Range(0, count + 1).Select(length => OpenOrder.Expected(order[..length], defer))).Min();

            Assert.True(OpenOrder.Plan(actions, defer).ExpectedMinutes <= best + 1e-9, $"seed {seed}");
        }
    }

    private static OpenAction[] Actions(double[] p, double[] c) => [.. p.Zip(c, (probability, minutes) => (probability, minutes)).Select((one, at) => new OpenAction($"{at}", one.probability, one.minutes))];

    private static double[] Numbers(JsonElement element, string member) => [.. element.GetProperty(member).EnumerateArray().Select(one => one.GetDouble())];

    private static IEnumerable<OpenAction[]> Permutations(OpenAction[] actions) =>
        actions.Length <= 1 ? [actions] : actions.SelectMany((action, at) => Permutations([.. actions[..at], .. actions[(at + 1)..]]).Select(rest => (OpenAction[])[action, .. rest]));
}
