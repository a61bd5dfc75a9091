using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.ShiftPlans;
using Drainboard.Planning;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.ShiftPlans;

/// <summary>Works a shift's plan out.</summary>
public sealed class ShiftSolver(IDbContextFactory<DrainboardDb> factory, ShiftPlanQuery shifts, SolverQueue queue)
{
    public const double LongestSeconds = 60;

    /// <summary>Solves one problem when its turn has come.</summary>
    public Task<ShiftPlan> SolveAsync(ShiftPlanProblem problem, double seconds, IProgress<PlanProgress>? progress, CancellationToken stop) =>
        queue.RunAsync(() => ShiftPlanner.Solve(problem, Math.Clamp(seconds, 0, LongestSeconds), progress, stop), stop);

    /// <param name="stop">The best plan so far stands.</param>
    public async Task<(SolvedShift? Solved, Refusal? Refusal)> SolveAsync(StationCode code, ShiftWish wish, double seconds, IProgress<PlanProgress>? progress, CancellationToken stop)
    {
        if (StationPlan.WhyNot(wish.From, wish.To) is { } no)
        {
            return (null, no);
        }

        if (await shifts.DraftAsync(code, wish.From, wish.To, wish.Chance, CancellationToken.None) is not { } draft)
        {
            return (null, new Refusal("no-such-station", $"There is no station {code}."));
        }

        await using var db = await factory.CreateDbContextAsync(CancellationToken.None);
        var told = await db.ShiftPlans.AsNoTracking().SingleOrDefaultAsync(plan => plan.Station == code && plan.From == wish.From, CancellationToken.None);
        if (ShiftProblem.Read(draft, wish, told, out var problem) is { } refusal)
        {
            return (null, refusal);
        }

        var plan = await SolveAsync(problem!.Problem, seconds, progress, stop);
        return (new SolvedShift(problem.Content(plan.Assigned), plan.Objective, plan.Bound, plan.Gap, plan.Proven, ShiftPlanner.WhyNot), null);
    }
}
