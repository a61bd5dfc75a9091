namespace Drainboard.Domain.Network;

/// <summary>Which stay takes which item, and how good that is known to be.</summary>
/// <param name="Assigned">In the order of the problem.</param>
/// <param name="Late">In the order of the problem.</param>
/// <param name="FewestLate">No plan has fewer.</param>
/// <param name="MostPoints">No plan with as few late has more.</param>
public sealed record NetworkPlan(IReadOnlyList<NetworkAssignment> Assigned, IReadOnlyList<string> Late, int FewestLate, int Points, int MostPoints)
{
    /// <summary>None has fewer late.</summary>
    public bool IsFewest => Late.Count <= FewestLate;

    /// <summary>None has fewer late, and none of those has more points.</summary>
    public bool Proven => IsFewest && MostPoints <= Points;

    /// <param name="fewestLate">As far as is known; those without any stay are late in every plan.</param>
    public static NetworkPlan Of(NetworkProblem problem, IReadOnlyDictionary<string, string> stays, int fewestLate = 0, int? mostPoints = null)
    {
        var assigned = problem.Items.Where(item => stays.ContainsKey(item.Id)).Select(item => new NetworkAssignment(item.Id, stays[item.Id])).ToArray();
        var late = problem.Items.Where(item => !stays.ContainsKey(item.Id)).Select(item => item.Id).ToArray();
        var points = problem.Items.Where(item => stays.ContainsKey(item.Id)).Sum(item => problem.PointsOf(item, item.Options.Index().First(option => option.Item.Stay == stays[item.Id]).Index));
        var best = problem.Items.Where(item => item.Options.Count > 0).Sum(item => Enumerable.Range(0, item.Options.Count).Max(option => Math.Max(0, problem.PointsOf(item, option))));
        return new NetworkPlan(assigned, late, Math.Clamp(Math.Max(fewestLate, problem.Items.Count(item => item.Options.Count == 0)), 0, late.Length), points, Math.Max(points, Math.Min(mostPoints ?? best, best)));
    }
}
