using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.Isolation;

/// <summary>Three toilets on one tank, two of them on a line of their own. Shares are the trade's (common practice, no source, from memory).</summary>
public sealed class VacuumAdviceTests
{
    private static readonly CabinLayout Layout = new(
        new LayoutId(Guid.Empty), "T3", 1, "Test", 1,
        [Cabin.Of("T-A", FixtureKind.Toilet), Cabin.Of("T-B", FixtureKind.Toilet), Cabin.Of("T-C", FixtureKind.Toilet), Cabin.Of("WL-F", FixtureKind.DrainLine), Cabin.Of("WT", FixtureKind.WasteTank), Cabin.Of("VG", FixtureKind.VacuumGenerator)],
        [Cabin.Drain("T-A", "WL-F"), Cabin.Drain("T-B", "WL-F"), Cabin.Drain("WL-F", "WT"), Cabin.Drain("T-C", "WT"), Cabin.Drain("WT", "VG")]);

    /// <summary>One toilet fails and the others flush: object 30, controller 25, valve 15, nothing 15, rinse 8 in a hundred; its line only if another on it flushed by chance.</summary>
    [Fact]
    public void Work_OneToiletAlone_GivesTheTradesShares()
    {
        var advice = Work(Tried("T-A", false), Tried("T-B", true), Tried("T-C", true));

        Assert.Equal((VacuumFault.ForeignObject, "T-A"), (advice.Suspects[0].Fault, advice.Suspects[0].At.Position.Value));
        Assert.Equal(0.30 / 0.93, advice.Suspects[0].Probability, 2);
        Assert.True(advice.Suspects.Where(suspect => suspect.At.Position.Value == "T-A").Sum(suspect => suspect.Probability) > 0.98);
    }

    /// <summary>One toilet alone and nothing else tried: its tank is at fault with the share that the terms say, less what its indications would add.</summary>
    [Fact]
    public void Work_OneToiletAndNothingElseTried_LeavesTheTankItsShare()
    {
        var advice = Work(Tried("T-A", false));
        VacuumFault[] tank = [VacuumFault.TankFull, VacuumFault.FalseFull, VacuumFault.ServiceValve, VacuumFault.Generator];

        Assert.InRange(advice.Suspects.Where(suspect => tank.Contains(suspect.Fault)).Sum(suspect => suspect.Probability), 0.20, 0.27);
        Assert.Equal(VacuumFault.ForeignObject, advice.Suspects[0].Fault);
    }

    /// <summary>All toilets of one tank at once: tank full 35, false full 25, generator 25, service valve 10 in a hundred.</summary>
    [Fact]
    public void Work_AllToiletsOfATank_PointsToTheTankItsSensorTheGeneratorAndTheValve()
    {
        var advice = Work(Tried("T-A", false), Tried("T-B", false), Tried("T-C", false));

        Assert.Equal([VacuumFault.TankFull, VacuumFault.FalseFull, VacuumFault.Generator, VacuumFault.ServiceValve], advice.Suspects.Take(4).Select(suspect => suspect.Fault));
        Assert.Equal(0.35 / 0.95, advice.Suspects[0].Probability, 2);
    }

    [Fact]
    public void Work_TwoOnOneLineFailAndTheThirdFlushes_PointsToTheLine()
    {
        var advice = Work(Tried("T-A", false), Tried("T-B", false), Tried("T-C", true));

        Assert.Equal((VacuumFault.Line, "WL-F"), (advice.Suspects[0].Fault, advice.Suspects[0].At.Position.Value));
    }

    /// <summary>The generator makes the vacuum low down and the cabin's pressure in the cruise (common practice, no source): where they fail tells which.</summary>
    [Fact]
    public void Work_FailingLowOnly_PointsToTheGenerator_AndFailingInTheCruiseAwayFromIt()
    {
        (Position, PourResult)[] all = [Tried("T-A", false), Tried("T-B", false), Tried("T-C", false)];

        Assert.Equal(VacuumFault.Generator, Work(new VacuumSigns(VacuumRegime.LowOnly), all).Suspects[0].Fault);
        Assert.True(Share(Work(new VacuumSigns(VacuumRegime.InTheCruise), all), VacuumFault.Generator) < Share(Work(all), VacuumFault.Generator) / 5);
    }

    [Fact]
    public void Work_ReadsFullAfterItWasEmptied_PointsToAFalseIndication()
    {
        var advice = Work(new VacuumSigns(ReadsFull: true, Emptied: true), Tried("T-A", false), Tried("T-B", false), Tried("T-C", false));

        Assert.Equal(VacuumFault.FalseFull, advice.Suspects[0].Fault);
        Assert.True(advice.Suspects[0].Probability > 0.8);
    }

    [Fact]
    public void Work_Anything_SumsToOne_AndPlansEverySuspect()
    {
        var advice = Work(Tried("T-B", false));

        Assert.Equal(1, advice.Suspects.Sum(suspect => suspect.Probability), 12);
        Assert.Equal(advice.Suspects.Count, advice.Plan.Order.Count);
        Assert.All(advice.Suspects, suspect => Assert.NotEmpty(suspect.Fault.Caution()));
    }

    [Fact]
    public void Work_AToiletThatReachesNoTank_IsNull() =>
        Assert.Null(VacuumAdvice.Work(new CabinLayout(new LayoutId(Guid.Empty), "T4", 1, "Test", 1, [Cabin.Of("T-A", FixtureKind.Toilet)], []), Position.Parse("T-A"), new Dictionary<Position, PourResult>(), VacuumSigns.None, AdviceTerms.Usual));

    private static (Position, PourResult) Tried(string at, bool flushes) => (Position.Parse(at), flushes ? PourResult.Ok : PourResult.Slow);

    private static double Share(VacuumAdvice advice, VacuumFault fault) => advice.Suspects.Where(suspect => suspect.Fault == fault).Sum(suspect => suspect.Probability);

    private static VacuumAdvice Work(params (Position, PourResult)[] tried) => Work(VacuumSigns.None, tried);

    private static VacuumAdvice Work(VacuumSigns signs, params (Position At, PourResult Result)[] tried) =>
        VacuumAdvice.Work(Layout, Position.Parse("T-A"), tried.ToDictionary(one => one.At, one => one.Result), signs, AdviceTerms.Usual)!;
}
