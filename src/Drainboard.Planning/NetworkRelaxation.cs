using Drainboard.Domain.Network;
using Google.OrTools.LinearSolver;

namespace Drainboard.Planning;

/// <summary>
/// The same problem with items that may be split over stays, by linear programming: what no plan can exceed, and, with most items whole in its
/// answer, a good plan to begin from.
/// </summary>
internal sealed class NetworkRelaxation
{
    private const double Whole = 1 - 1e-6;
    private const int Rounds = 12;

    private readonly IReadOnlyDictionary<string, double[]> _parts;

    private NetworkRelaxation(double value, IReadOnlyDictionary<string, double[]> parts) => (Value, _parts) = (value, parts);

    public double Value { get; }

    /// <param name="worth">What one of an item's stays is worth.</param>
    /// <param name="atLeast">So many items are planned.</param>
    /// <returns>Null where it was not solved.</returns>
    public static NetworkRelaxation? Solve(NetworkProblem problem, Func<NetworkItem, int, double> worth, int atLeast)
    {
        using var solver = Solver.CreateSolver("GLOP");
        var (capacities, count, parts) = (problem.Capacities.ToDictionary(one => one.Key, one => solver.MakeConstraint(0, one.Value)), solver.MakeConstraint(atLeast, double.PositiveInfinity), new Dictionary<string, Variable[]>());
        foreach (var item in problem.Items)
        {
            var once = solver.MakeConstraint(0, 1);
            parts[item.Id] = [.. item.Options.Select((option, at) =>
            {
                var fits = option.Draws.All(name => problem.Capacities.GetValueOrDefault(name) >= option.Minutes);
                var part = solver.MakeNumVar(0, fits ? 1 : 0, "");
                once.SetCoefficient(part, 1);
                count.SetCoefficient(part, 1);
                solver.Objective().SetCoefficient(part, worth(item, at));
                foreach (var name in option.Draws.Where(capacities.ContainsKey))
                {
                    capacities[name].SetCoefficient(part, option.Minutes);
                }

                return part;
            })];
        }

        solver.Objective().SetMaximization();
        return solver.Solve() == Solver.ResultStatus.OPTIMAL ? new NetworkRelaxation(solver.Objective().Value(), parts.ToDictionary(one => one.Key, one => one.Value.Select(part => part.SolutionValue()).ToArray())) : null;
    }

    /// <summary>A whole plan: what is whole in the answer is kept, the rest is asked again with what is left, and so on; at last, short ones first, each where there is room.</summary>
    public static IReadOnlyDictionary<string, string> Rounded(NetworkProblem problem, Func<NetworkItem, int, double> worth)
    {
        var (left, stays, rest) = (problem.Capacities.ToDictionary(), new Dictionary<string, string>(), problem);
        for (var round = 0; round < Rounds && rest.Items.Count > 0 && Solve(rest, worth, 0) is { } relaxed; round++)
        {
            var sure = rest.Items.Where(item => item.Options.Count > 0).OrderByDescending(relaxed.Largest).ThenBy(item => item.Id, StringComparer.Ordinal).ToArray();
            foreach (var item in sure.Take(Math.Max(sure.Count(item => relaxed.Largest(item) >= Whole), sure.Length / 8)).Where(item => relaxed.Largest(item) > 0))
            {
                Take(item, relaxed._parts[item.Id].Zip(item.Options).OrderByDescending(one => one.First).Take(1).Select(one => one.Second), left, stays);
            }

            rest = problem with { Items = [.. problem.Items.Where(item => !stays.ContainsKey(item.Id))], Capacities = left };
        }

        foreach (var item in rest.Items.Where(item => item.Options.Count > 0).OrderBy(item => item.Options[0].Minutes).ThenBy(item => item.Id, StringComparer.Ordinal))
        {
            Take(item, item.Options, left, stays);
        }

        return stays;
    }

    private static void Take(NetworkItem item, IEnumerable<NetworkOption> options, Dictionary<string, int> left, Dictionary<string, string> stays)
    {
        if (options.FirstOrDefault(option => option.Draws.All(name => left.GetValueOrDefault(name) >= option.Minutes)) is { } option)
        {
            stays[item.Id] = option.Stay;
            foreach (var name in option.Draws)
            {
                left[name] -= option.Minutes;
            }
        }
    }

    private double Largest(NetworkItem item) => _parts[item.Id].DefaultIfEmpty().Max();
}
