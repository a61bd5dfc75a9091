using Drainboard.Domain.Network;
using Drainboard.Planning;
using Google.OrTools.LinearSolver;

namespace Drainboard.Domain.Tests.Network;

public sealed class NetworkTests
{
    private static readonly NetworkProblem Two = new(
        [new NetworkItem("A", [new("1", 30, 0.8, 0, ["1", "day"]), new("2", 30, 0.9, 0, ["2", "day"])]), new NetworkItem("B", [new("1", 40, 0.7, 0, ["1", "day"])]), new NetworkItem("C", [])],
        new Dictionary<string, int> { ["1"] = 60, ["2"] = 60, ["day"] = 100 });

    /// <summary>Two unit slots, four jobs: the points are the profits and 5 for a later slot to fall back on, so the choice is the published one.</summary>
    [Fact]
    public void Plan_OfThePublishedDeadlines_TakesTheFirstAndTheFourth()
    {
        var plan = NetworkPlanner.Solve(NetworkProblems.Deadlines, 10, null, TestContext.Current.CancellationToken);

        Assert.Equal([new("1", "slot 2"), new NetworkAssignment("4", "slot 1")], plan.Assigned);
        Assert.Equal(127, plan.Points);
        Assert.Equal(2, plan.Late.Count);
        Assert.True(plan.Proven);
    }

    [Fact]
    public void Plan_WithoutAStay_IsLateInEveryPlan()
    {
        var plan = NetworkPlanner.Solve(Two, 10, null, TestContext.Current.CancellationToken);

        Assert.Equal(["C"], plan.Late);
        Assert.Equal([new("A", "2"), new NetworkAssignment("B", "1")], plan.Assigned);
        Assert.True(plan is { IsFewest: true, Proven: true, FewestLate: 1 });
    }

    /// <summary>Fewer late is worth more than any chance: the one that could go twice makes room.</summary>
    [Fact]
    public void Plan_NeverTradesALateItemForPoints()
    {
        var problem = Two with { Items = [new("A", [new("1", 50, 0.99, 0, ["1"]), new("2", 50, 0.7, 0, ["2"])]), new("B", [new("1", 40, 0.7, 0, ["1"])])] };

        var plan = NetworkPlanner.Solve(problem, 10, null, TestContext.Current.CancellationToken);

        Assert.Empty(plan.Late);
        Assert.Equal("2", plan.Assigned[0].Stay);
    }

    [Fact]
    public void Plan_ToldBefore_StaysWhereItWasForAlittleLess()
    {
        var problem = new NetworkProblem([new("A", [new("1", 30, 0.9, 0, ["1"]), new("2", 30, 0.93, 0, ["2"])])], new Dictionary<string, int> { ["1"] = 60, ["2"] = 60 });
        Assert.Equal("1", NetworkPlanner.Solve(problem, 10, null, TestContext.Current.CancellationToken).Assigned[0].Stay);
        Assert.Equal("2", NetworkPlanner.Solve(problem with { Told = new Dictionary<string, string> { ["A"] = "2" } }, 10, null, TestContext.Current.CancellationToken).Assigned[0].Stay);
    }

    /// <summary>Where the chance is the same, sooner is better: two points a day, and a stay to fall back on is five.</summary>
    [Fact]
    public void Plan_OfEqualChances_GoesToTheFirst()
    {
        var problem = new NetworkProblem([new("A", [.. Enumerable.Range(0, 5).Select(day => new NetworkOption($"{day}", 30, 0.9, day, [$"{day}"]))])], Enumerable.Range(0, 5).ToDictionary(day => $"{day}", _ => 60));
        var plan = NetworkPlanner.Solve(problem, 10, null, TestContext.Current.CancellationToken);
        Assert.Equal(("0", 100), (plan.Assigned[0].Stay, plan.Points));
        Assert.Equal([100, 98, 96, 89, 82], Enumerable.Range(0, 5).Select(problem.Items[0].PointsOf));
    }

    [Theory]
    [InlineData("A", "3", "A cannot be taken in the stay it is planned for.")]
    [InlineData("X", "1", "X is not at stake.")]
    [InlineData("C", "1", "C cannot be taken in the stay it is planned for.")]
    public void Faults_OfAWrongAssignment_SaySo(string item, string stay, string words) => Assert.Equal([words], NetworkCheck.Faults(Two, [new(item, stay)]));

    [Fact]
    public void Faults_OfTooMuchInOneStayOrTwice_AreTold()
    {
        Assert.Equal(["1 has 60 min; 70 are planned."], NetworkCheck.Faults(Two, [new("A", "1"), new("B", "1")]));
        Assert.Equal("B is planned 2 times.", NetworkCheck.Faults(Two, [new("B", "1"), new("B", "1")])[0]);
        Assert.Empty(NetworkCheck.Faults(Two, [new("A", "2"), new("B", "1")]));
        Assert.Equal(["day has 60 min; 70 are planned."], NetworkCheck.Faults(Two with { Capacities = new Dictionary<string, int> { ["1"] = 60, ["2"] = 60, ["day"] = 60 } }, [new("A", "2"), new("B", "1")]));
    }

    /// <summary>On small problems the planner finds what trying everything finds; the plan without a solver holds and is never better.</summary>
    [Fact]
    public void Plan_OnSmallProblems_IsTheBestOfAll()
    {
        var random = new Random(20261127);
        for (var round = 0; round < 120; round++)
        {
            var problem = NetworkProblems.Random(random);
            var best = NetworkProblems.Best(problem);
            var (plan, simple) = (NetworkPlanner.Solve(problem, 10, null, TestContext.Current.CancellationToken), FirstRoom.Plan(problem));

            Assert.Equal(best, (plan.Late.Count, plan.Points));
            Assert.True(plan.Proven);
            Assert.Empty(NetworkCheck.Faults(problem, simple.Assigned));
            Assert.True((simple.Late.Count, -simple.Points).CompareTo((best.Late, -best.Points)) >= 0);
            Assert.True(simple.FewestLate <= best.Late && simple.MostPoints >= simple.Points);
        }
    }

    /// <summary>Larger ones against another kind of solver, mixed integer programming (SCIP): the fewest late are the same.</summary>
    [Fact]
    public void Plan_OnLargerProblems_AgreesWithMixedIntegerProgramming()
    {
        var random = new Random(20261128);
        for (var round = 0; round < 8; round++)
        {
            var problem = NetworkProblems.Random(random, 60, 12);
            var plan = NetworkPlanner.Solve(problem, 30, null, TestContext.Current.CancellationToken);

            Assert.True(plan.Proven);
            Assert.Equal(FewestLate(problem), plan.Late.Count);
        }
    }

    private static int FewestLate(NetworkProblem problem)
    {
        using var solver = Solver.CreateSolver("SCIP");
        var draws = problem.Capacities.ToDictionary(one => one.Key, one => solver.MakeConstraint(0, one.Value));
        foreach (var item in problem.Items)
        {
            var once = solver.MakeConstraint(0, 1);
            foreach (var option in item.Options)
            {
                var takes = solver.MakeBoolVar("");
                once.SetCoefficient(takes, 1);
                solver.Objective().SetCoefficient(takes, 1);
                foreach (var name in option.Draws)
                {
                    draws[name].SetCoefficient(takes, option.Minutes);
                }
            }
        }

        solver.Objective().SetMaximization();
        Assert.Equal(Solver.ResultStatus.OPTIMAL, solver.Solve());
        return problem.Items.Count - (int)Math.Round(solver.Objective().Value());
    }
}
