using Drainboard.Domain.ShiftPlans;

namespace Drainboard.Domain.Tests.ShiftPlans;

public sealed class ShiftPlanTests
{
    private static readonly ShiftPlanProblem Two = new(
        [new PlanTechnician("T1", 0, 100, ["a"]), new PlanTechnician("T2", 0, 100, ["a", "b"])],
        [new PlanTask("K1", 30, 5, "a", 0, 60) { Stand = "12" }, new PlanTask("K2", 20, 3, "b", 10, 90) { Stand = "12" }, new PlanTask("K3", 20, 2, "a", 0, 100) { Stand = "14" }], 6);

    [Fact]
    public void Faults_OfAPlanThatHolds_AreNone() =>
        Assert.Empty(ShiftPlanCheck.Faults(Two, [new("K1", "T1", 0), new("K3", "T1", 36), new("K2", "T2", 10)]));

    /// <summary>Touching is no overlap on the same stand; between stands somebody walks.</summary>
    [Fact]
    public void Faults_OfNeighbours_AskForTheWalkBetweenStandsOnly()
    {
        Assert.Empty(ShiftPlanCheck.Faults(Two, [new("K1", "T2", 0), new("K2", "T2", 30)]));
        Assert.Single(ShiftPlanCheck.Faults(Two, [new("K1", "T1", 0), new("K3", "T1", 35)]));
    }

    [Theory]
    [InlineData("K1", "T1", 31)]
    [InlineData("K2", "T1", 20)]
    [InlineData("K2", "T2", 9)]
    [InlineData("K9", "T1", 0)]
    [InlineData("K1", "T9", 0)]
    public void Faults_OfAWrongAssignment_SaySo(string task, string who, int start) => Assert.Single(ShiftPlanCheck.Faults(Two, [new(task, who, start)]));

    [Fact]
    public void Faults_OfOrderAccessAndDoubles_AreAllTold()
    {
        var problem = Two with { Tasks = [Two.Tasks[0] with { Access = "panel" }, Two.Tasks[1] with { Access = "panel", After = ["K1"] }, Two.Tasks[2]] };
        Assert.Equal(2, ShiftPlanCheck.Faults(problem, [new("K1", "T1", 0), new("K2", "T2", 20)]).Count);
        Assert.Empty(ShiftPlanCheck.Faults(problem, [new("K1", "T1", 0), new("K2", "T2", 30)]));
        Assert.Single(ShiftPlanCheck.Faults(Two, [new("K1", "T1", 0), new("K1", "T2", 0)]));
    }

    /// <summary>The heaviest first gives 69 of 70 on the reference instance, and every plan of it holds.</summary>
    [Fact]
    public void Greedy_OnTheReferenceInstance_HoldsAndIsNotBest()
    {
        var plan = GreedyPlan.Make(ShiftProblems.TwoTechnicians());
        Assert.Empty(ShiftPlanCheck.Faults(ShiftProblems.TwoTechnicians(), plan.Assigned));
        Assert.InRange(plan.Objective, 60, 70);
        Assert.False(plan.Proven);
    }

    /// <summary>On random small problems every greedy plan holds and is never worth more than the best there is.</summary>
    [Fact]
    public void Greedy_OnRandomProblems_HoldsAndNeverExceedsTheBest()
    {
        var random = new Random(20261126);
        for (var round = 0; round < 300; round++)
        {
            var problem = ShiftProblems.Random(random);
            var plan = GreedyPlan.Make(problem);
            Assert.Empty(ShiftPlanCheck.Faults(problem, plan.Assigned));
            Assert.True(plan.Objective <= Exhaustive.Best(problem));
            Assert.Empty(ShiftPlanCheck.Faults(problem, EarlyStarts.Of(problem, plan.Assigned)));
        }
    }

    [Fact]
    public void ValueOf_CountsChangesAgainstWhatPeopleWereTold()
    {
        var told = Two with { Previous = [new("K1", "T1", 0), new("K2", "T2", 40), new("K3", "T1", 40)], ChangeCost = 2 };
        Assert.Equal(10, told.ValueOf([new("K1", "T1", 0), new("K2", "T2", 40), new("K3", "T1", 40)]));
        Assert.Equal(6, told.ValueOf([new("K1", "T2", 0), new("K2", "T2", 60), new("K3", "T1", 55)]));
        Assert.Equal(5, told.ValueOf([new("K1", "T1", 15)]));
    }

    [Fact]
    public void WhyLeft_NamesTheReason()
    {
        var problem = Two with
        {
            Tasks =
            [
                new("C", 10, 1, "c", 0, 60), new("S", 70, 1, "a", 0, 60), new("P", 10, 1, "b", 0, 60) { PinnedTo = "T1" }, new("B", 10, 1, "a", 0, 60) { Barred = ["T1", "T2"] },
                new("L", 10, 1, "a", 95, 200), new("F", 10, 1, "a", 0, 60) { After = ["C"] }, new("W", 10, 1, "a", 0, 60),
            ],
        };
        var plan = ShiftPlan.Of(problem, [], 0);
        Assert.Equal(
            ["Nobody on this shift may do it.", "Its window has 60 min; it takes 70.", "It is pinned to T1, who may not do it or is not there.", "Everybody who may do it was ruled out.", "Nobody who may do it is there long enough in its window.", "It follows C, which is left as well.", "Everybody who may do it has work of more weight in its window."],
            problem.Tasks.Select(task => WhyLeft.Of(problem, plan, task)));
    }

    /// <summary>One task of a known time: the chance is that of the time itself. Two by one technician: the second starts when the first has ended.</summary>
    [Fact]
    public void Risk_OfPlannedTasks_IsTheChanceThatTheyEndInTime()
    {
        static double Uniform(string task, double part) => task == "K1" ? 20 + (20 * part) : 10 + (10 * part);
        var problem = new ShiftPlanProblem([new PlanTechnician("T1", 0, 100, ["a"])], [new PlanTask("K1", 30, 1, "a", 0, 35), new PlanTask("K2", 15, 1, "a", 0, 45)], 0);
        var risk = PlanRisk.Of(problem, [new("K1", "T1", 0), new("K2", "T1", 30)], Uniform, new Dictionary<string, string> { ["K1"] = "A", ["K2"] = "B" });
        Assert.Equal(0.75, risk["A"], 0.04);
        // Twice a uniform and half of it: P(20u + 10v <= 15) with u, v uniform is one half.
        Assert.Equal(0.5, risk["B"], 0.04);
        Assert.Equal(risk["A"], PlanRisk.Of(problem, [new("K1", "T1", 0), new("K2", "T1", 30)], Uniform, new Dictionary<string, string> { ["K1"] = "A", ["K2"] = "B" })["A"]);
    }
}
