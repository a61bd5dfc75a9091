using System.Diagnostics;
using System.Globalization;
using Drainboard.Domain.Network;
using Google.OrTools.Sat;

namespace Drainboard.Planning;

/// <summary>
/// Plans the network's items in two steps: first the fewest late, then, with as few, the most points. Linear programming gives the bound and a
/// plan to begin from, a constraint solver goes on from there. Every plan that leaves here has passed the domain's own check.
/// </summary>
public static class NetworkPlanner
{
    // More than there are cores: some of the search strategies give the bound, others the plans.
    private const int Workers = 8;

    // Linear programming may end slightly below a whole number.
    private const double Slack = 1e-3;

    // What is left of the time that the first step may use, so that the second has some.
    private const double FirstShare = 0.5;

    // In the plan to begin from, one late item less is worth more than any points.
    private const double InTime = 1000;

    /// <param name="seconds">After so many the best plan so far stands.</param>
    /// <param name="stop">The best plan so far stands at once.</param>
    public static NetworkPlan Solve(NetworkProblem problem, double seconds, IProgress<NetworkProgress>? progress, CancellationToken stop)
    {
        var (started, best) = (Stopwatch.GetTimestamp(), FirstRoom.Plan(problem));
        foreach (var step in new Func<NetworkProblem, NetworkPlan, double, CancellationToken, NetworkPlan>[] { Begin, FewestLate, MostPoints })
        {
            var left = seconds - Stopwatch.GetElapsedTime(started).TotalSeconds;
            if (ShiftPlanner.WhyNot is not null || best.Proven || left <= 0 || stop.IsCancellationRequested)
            {
                break;
            }

            var plan = step(problem, best, left, stop);
            if (NetworkCheck.Faults(problem, plan.Assigned) is [var fault, ..])
            {
                throw new InvalidOperationException($"The solver's plan does not hold: {fault}");
            }

            best = (plan.Late.Count, -plan.Points).CompareTo((best.Late.Count, -best.Points)) <= 0 ? plan : NetworkPlan.Of(problem, Stays(best), plan.FewestLate, plan.IsFewest ? plan.MostPoints : null);
            progress?.Report(new NetworkProgress(best.Late.Count, best.FewestLate, best.Points, best.MostPoints, Stopwatch.GetElapsedTime(started).TotalSeconds));
        }

        return best;
    }

    private static NetworkPlan Begin(NetworkProblem problem, NetworkPlan known, double seconds, CancellationToken stop)
    {
        var fewest = NetworkRelaxation.Solve(problem, (_, _) => 1, 0) is { } count ? problem.Items.Count - (int)Math.Floor(count.Value + Slack) : known.FewestLate;
        return NetworkPlan.Of(problem, NetworkRelaxation.Rounded(problem, (item, option) => InTime + problem.PointsOf(item, option)), fewest);
    }

    private static NetworkPlan FewestLate(NetworkProblem problem, NetworkPlan known, double seconds, CancellationToken stop)
    {
        if (known.IsFewest)
        {
            return known;
        }

        var (model, takes) = Model(problem, known);
        model.Maximize(LinearExpr.Sum(takes.Select(one => one.Takes)));
        return Solve(model, takes, FirstShare * seconds, stop) is var (stays, bound) ? NetworkPlan.Of(problem, stays, Math.Max(known.FewestLate, problem.Items.Count - bound)) : known;
    }

    private static NetworkPlan MostPoints(NetworkProblem problem, NetworkPlan known, double seconds, CancellationToken stop)
    {
        var relaxed = NetworkRelaxation.Solve(problem, (item, option) => problem.PointsOf(item, option), known.Assigned.Count);
        var most = relaxed is null ? int.MaxValue : (int)Math.Floor(relaxed.Value + Slack);
        var (model, takes) = Model(problem, known);
        model.Add(LinearExpr.Sum(takes.Select(one => one.Takes)) >= known.Assigned.Count);
        model.Maximize(LinearExpr.Sum(takes.Select(one => one.Takes * problem.PointsOf(one.Item, one.Option))));
        var (stays, bound) = Solve(model, takes, seconds, stop) ?? (Stays(known), int.MaxValue);
        return NetworkPlan.Of(problem, stays, known.FewestLate, Math.Min(most, bound));
    }

    private static (IReadOnlyDictionary<string, string> Stays, int Bound)? Solve(CpModel model, IReadOnlyList<(NetworkItem Item, int Option, BoolVar Takes)> takes, double seconds, CancellationToken stop)
    {
        using var solver = new CpSolver { StringParameters = string.Create(CultureInfo.InvariantCulture, $"max_time_in_seconds:{seconds:0.###} num_workers:{Workers} random_seed:1") };
        using var asked = stop.Register(solver.StopSearch);
        return solver.Solve(model) is CpSolverStatus.Optimal or CpSolverStatus.Feasible
            ? (takes.Where(one => solver.BooleanValue(one.Takes)).ToDictionary(one => one.Item.Id, one => one.Item.Options[one.Option].Stay), (int)Math.Floor(solver.BestObjectiveBound + 1e-6))
            : null;
    }

    private static (CpModel Model, IReadOnlyList<(NetworkItem Item, int Option, BoolVar Takes)> Takes) Model(NetworkProblem problem, NetworkPlan known)
    {
        var (model, takes, draws, stays) = (new CpModel(), new List<(NetworkItem, int, BoolVar)>(), new Dictionary<string, List<(BoolVar Takes, int Minutes)>>(), Stays(known));
        foreach (var item in problem.Items)
        {
            var mine = new List<BoolVar>(item.Options.Count);
            foreach (var (option, one) in item.Options.Index())
            {
                if (one.Draws.Any(name => problem.Capacities.GetValueOrDefault(name) < one.Minutes))
                {
                    continue;
                }

                var take = model.NewBoolVar($"{item.Id} {one.Stay}");
                model.AddHint(take, stays.GetValueOrDefault(item.Id) == one.Stay);
                mine.Add(take);
                takes.Add((item, option, take));
                foreach (var name in one.Draws)
                {
                    (draws.TryGetValue(name, out var uses) ? uses : draws[name] = []).Add((take, one.Minutes));
                }
            }

            model.AddAtMostOne(mine);
        }

        foreach (var (name, all) in draws.Where(one => one.Value.Sum(take => take.Minutes) > problem.Capacities[one.Key]))
        {
            model.Add(LinearExpr.Sum(all.Select(one => one.Takes * one.Minutes)) <= problem.Capacities[name]);
        }

        return (model, takes);
    }

    private static Dictionary<string, string> Stays(NetworkPlan plan) => plan.Assigned.ToDictionary(one => one.Item, one => one.Stay);
}
