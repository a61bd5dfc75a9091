using System.Diagnostics;
using Drainboard.Domain.ShiftPlans;
using Google.OrTools.Sat;

namespace Drainboard.Planning;

/// <summary>
/// Plans a shift with a constraint solver. It begins from the greedy plan and says how much better any plan could be. Every plan that leaves
/// here has passed the domain's own check. A plan that is proven best is found anew in a fixed way, so that the same question has the same answer.
/// </summary>
public static class ShiftPlanner
{
    private const int Workers = 2;

    /// <summary>Whether the solver's native library is there; null: it is, otherwise why not.</summary>
    public static string? WhyNot { get; } = Try();

    /// <param name="seconds">After so many the best plan so far stands.</param>
    /// <param name="stop">The best plan so far stands at once.</param>
    public static ShiftPlan Solve(ShiftPlanProblem problem, double seconds, IProgress<PlanProgress>? progress, CancellationToken stop)
    {
        var greedy = GreedyPlan.Make(problem);
        if (WhyNot is not null || greedy.Proven || stop.IsCancellationRequested || seconds <= 0)
        {
            return greedy;
        }

        var started = Stopwatch.GetTimestamp();
        var model = new ShiftPlanModel(problem);
        model.Model.Maximize(model.Value);
        model.Hint(greedy.Assigned);
        var best = new BestSoFar(progress, greedy.Objective);
        using var solver = new CpSolver { StringParameters = Parameters(seconds, Workers) };
        solver.SetBestBoundCallback(best.TakeBound);
        using (stop.Register(() => { best.Ask(); solver.StopSearch(); }))
        {
            var status = solver.Solve(model.Model, best);
            if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
            {
                return greedy;
            }

            var bound = status == CpSolverStatus.Optimal ? (int)Math.Round(solver.ObjectiveValue) : (int)Math.Floor(solver.BestObjectiveBound + 1e-6);
            var plan = Checked(problem, model.Read(solver.BooleanValue, solver.Value), bound, greedy);
            return plan.Proven ? InAFixedWay(problem, plan, seconds - Stopwatch.GetElapsedTime(started).TotalSeconds, stop) : plan;
        }
    }

    private static ShiftPlan InAFixedWay(ShiftPlanProblem problem, ShiftPlan proven, double seconds, CancellationToken stop)
    {
        if (seconds <= 0 || stop.IsCancellationRequested)
        {
            return proven;
        }

        var model = new ShiftPlanModel(problem);
        model.Model.Add(model.Value >= proven.Objective);
        using var solver = new CpSolver { StringParameters = Parameters(seconds, 1) };
        using var asked = stop.Register(solver.StopSearch);
        return solver.Solve(model.Model) is CpSolverStatus.Optimal or CpSolverStatus.Feasible ? Checked(problem, model.Read(solver.BooleanValue, solver.Value), proven.Bound, proven) : proven;
    }

    private static ShiftPlan Checked(ShiftPlanProblem problem, IReadOnlyCollection<PlanAssignment> assigned, int bound, ShiftPlan otherwise)
    {
        var early = EarlyStarts.Of(problem, assigned);
        var faults = ShiftPlanCheck.Faults(problem, early);
        var plan = ShiftPlan.Of(problem, early, bound);
        return faults.Count == 0 ? plan.Objective >= otherwise.Objective ? plan : otherwise with { Bound = Math.Max(bound, otherwise.Objective), Proven = bound <= otherwise.Objective } : throw new InvalidOperationException($"The solver's plan does not hold: {faults[0]}");
    }

    private static string Parameters(double seconds, int workers) => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"max_time_in_seconds:{seconds:0.###} num_workers:{workers} random_seed:1");

    private static string? Try()
    {
        try
        {
            var model = new CpModel();
            model.Add(model.NewBoolVar("one") == 1);
            using var solver = new CpSolver();
            return solver.Solve(model) == CpSolverStatus.Optimal ? null : "The solver does not answer as it should.";
        }
        catch (Exception missing) when (missing is DllNotFoundException or TypeInitializationException or BadImageFormatException or EntryPointNotFoundException)
        {
            return "The solver's library is not there for this system.";
        }
    }

    private sealed class BestSoFar(IProgress<PlanProgress>? progress, int atLeast) : CpSolverSolutionCallback
    {
        private readonly long _started = Stopwatch.GetTimestamp();
        private int _objective = atLeast;
        private int _bound = int.MaxValue;
        private volatile bool _asked;

        public void Ask() => _asked = true;

        public void TakeBound(double bound)
        {
            _bound = (int)Math.Floor(bound + 1e-6);
            Tell();
        }

        public override void OnSolutionCallback()
        {
            (_objective, _bound) = (Math.Max(_objective, (int)Math.Round(ObjectiveValue())), (int)Math.Floor(BestObjectiveBound() + 1e-6));
            Tell();
            if (_asked)
            {
                StopSearch();
            }
        }

        private void Tell() => progress?.Report(new PlanProgress(_objective, Math.Max(_objective, _bound), Stopwatch.GetElapsedTime(_started).TotalSeconds));
    }
}
