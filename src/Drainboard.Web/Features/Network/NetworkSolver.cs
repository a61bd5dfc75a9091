using Drainboard.Domain;
using Drainboard.Domain.Network;
using Drainboard.Planning;

namespace Drainboard.Web.Features.Network;

/// <summary>Plans the network, and where something is asked about, the same without it.</summary>
public sealed class NetworkSolver(NetworkQuery network, SolverQueue queue)
{
    public const double LongestSeconds = 60;

    /// <param name="stop">The best plan so far stands.</param>
    public async Task<(SolvedNetwork? Solved, Refusal? Refusal)> SolveAsync(NetworkWish wish, double seconds, IProgress<NetworkProgress>? progress, CancellationToken stop)
    {
        var (draft, refusal) = await network.DraftAsync(wish, CancellationToken.None);
        if (draft is null)
        {
            return (null, refusal);
        }

        var allowed = Math.Clamp(seconds, 0, LongestSeconds);
        var plan = await queue.RunAsync(() => NetworkPlanner.Solve(draft.Problem, allowed, progress, stop), stop);
        var content = NetworkContent.Of(draft, plan);
        var without = wish.IsWhatIf && !stop.IsCancellationRequested ? await WithoutAsync(wish, content, allowed, stop) : null;
        return (new SolvedNetwork(content, draft.Until, plan.Points, plan.MostPoints, plan.IsFewest, plan.Proven, NetworkContent.Load(draft, plan), draft.Swap, without, ShiftPlanner.WhyNot), null);
    }

    private async Task<WithoutIt> WithoutAsync(NetworkWish wish, FleetPlanContent with, double seconds, CancellationToken stop)
    {
        var (draft, _) = await network.DraftAsync(new NetworkWish(wish.Days, KeepPlan: wish.KeepPlan), CancellationToken.None);
        var plan = await queue.RunAsync(() => NetworkPlanner.Solve(draft!.Problem, seconds, null, stop), stop);
        var before = NetworkContent.Of(draft!, plan);
        return new WithoutIt(before.Late.Count, plan.IsFewest, [.. with.Late.ExceptBy(before.Late.Select(late => late.Defect), late => late.Defect)], [.. before.Late.ExceptBy(with.Late.Select(late => late.Defect), late => late.Defect)]);
    }
}
