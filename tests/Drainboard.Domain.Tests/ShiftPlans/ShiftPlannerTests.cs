using Drainboard.Domain.ShiftPlans;
using Drainboard.Planning;

namespace Drainboard.Domain.Tests.ShiftPlans;

/// <summary>The solver against published optima and against trying everything. Where its native library is missing these fail: a station must know.</summary>
public sealed class ShiftPlannerTests
{
    [Fact]
    public void Solver_IsThere() => Assert.Null(ShiftPlanner.WhyNot);

    /// <summary>Reference set 14, two technicians and twelve windows: optimum 70, found twice independently; the one best set leaves K06.</summary>
    [Fact]
    public void Solve_TheReferenceInstance_ProvesSeventy()
    {
        var problem = ShiftProblems.TwoTechnicians();
        var plan = ShiftPlanner.Solve(problem, 20, null, TestContext.Current.CancellationToken);
        Assert.Equal((70, 70, true), (plan.Objective, plan.Bound, plan.Proven));
        Assert.Equal(["K06"], plan.Left);
        Assert.Empty(ShiftPlanCheck.Faults(problem, plan.Assigned));
        Assert.Equal(plan.Assigned, ShiftPlanner.Solve(problem, 20, null, TestContext.Current.CancellationToken).Assigned);
    }

    /// <summary>Moore and Hodgson (1968): as many jobs on time as the published instances allow; several sets are best, so the number is compared.</summary>
    [Fact]
    public void Solve_MooreHodgson_HasTheFewestLate()
    {
        foreach (var (problem, onTime) in ShiftProblems.MooreHodgson())
        {
            var plan = ShiftPlanner.Solve(problem, 20, null, TestContext.Current.CancellationToken);
            Assert.Equal((onTime, true), (plan.Objective, plan.Proven));
        }
    }

    /// <summary>Graham (1969): the cases in which the longest first is worst fit their optimum exactly.</summary>
    [Fact]
    public void Solve_GrahamsCases_FitTheirOptimumAndNotLess()
    {
        foreach (var (inTime, oneLess) in ShiftProblems.Graham())
        {
            Assert.Empty(ShiftPlanner.Solve(inTime, 20, null, TestContext.Current.CancellationToken).Left);
            Assert.NotEmpty(ShiftPlanner.Solve(oneLess, 20, null, TestContext.Current.CancellationToken).Left);
        }
    }

    /// <summary>Random small problems with skills, walking, shared access, order and pins: proven, holding, and worth what trying everything finds.</summary>
    [Fact]
    public void Solve_RandomProblems_AgreesWithTryingEverything()
    {
        var random = new Random(7);
        for (var round = 0; round < 60; round++)
        {
            var problem = ShiftProblems.Random(random);
            var plan = ShiftPlanner.Solve(problem, 20, null, TestContext.Current.CancellationToken);
            Assert.True(plan.Proven);
            Assert.Empty(ShiftPlanCheck.Faults(problem, plan.Assigned));
            Assert.Equal(Exhaustive.Best(problem), plan.Objective);
        }
    }

    /// <summary>Planned again after a small change, people keep what they were told where that costs less than a change.</summary>
    [Fact]
    public void Solve_Again_KeepsWhatPeopleWereTold()
    {
        var problem = ShiftProblems.TwoTechnicians();
        var first = ShiftPlanner.Solve(problem, 20, null, TestContext.Current.CancellationToken);
        var later = problem with { Tasks = [.. problem.Tasks.Where(task => task.Id != "K12"), new PlanTask("K13", 20, 4, "cabin", 190, 235)], Previous = first.Assigned, ChangeCost = 2 };
        var second = ShiftPlanner.Solve(later, 20, null, TestContext.Current.CancellationToken);
        Assert.Empty(ShiftPlanCheck.Faults(later, second.Assigned));
        Assert.Contains(second.Assigned, one => one.Task == "K13");
        Assert.DoesNotContain(first.Assigned.Join(second.Assigned, one => one.Task, one => one.Task, (before, after) => (before, after)), pair => ShiftPlanProblem.IsChange(pair.before, pair.after));
    }

    [Fact]
    public void Solve_GivenUp_AnswersAPlanThatHolds()
    {
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        var plan = ShiftPlanner.Solve(ShiftProblems.TwoTechnicians(), 20, null, stop.Token);
        Assert.Empty(ShiftPlanCheck.Faults(ShiftProblems.TwoTechnicians(), plan.Assigned));
        Assert.False(plan.Proven);
    }
}
