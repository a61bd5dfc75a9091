using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Drainboard.Domain.Tests.Situations;
using static Drainboard.Domain.Tests.Situations.Cabin;

namespace Drainboard.Domain.Tests.Plumbing;

/// <summary>When a drawing is sound. Facts of the trade; common practice, no source.</summary>
public sealed class PlumbingRulesTests
{
    [Fact]
    public void Check_SoundCabin_FindsNothing() => Assert.Empty(PlumbingRules.Check(Layout.Fixtures, Layout.Connections));

    [Fact]
    public void Check_StrainerOnTheSupply_IsAMix() => AssertFault("waste-supplies", add: [Supply("PT", "S-1")]);

    [Fact]
    public void Check_PotableTankInADrain_IsAMix() => AssertFault("potable-drains", add: [Drain("K-1", "PT")]);

    [Fact]
    public void Check_ValveOnBothSystems_IsAMix() =>
        AssertFault("systems-mix", [Of("CV", FixtureKind.CheckValve)], [Supply("PT", "CV"), Drain("CV", "BR")]);

    [Fact]
    public void Check_TapSuppliedFromABasin_IsFound() => AssertFault("supplied-from-a-drain", add: [Supply("K-1", "K-2")]);

    [Fact]
    public void Check_DrainThatRunsInACircle_NamesTheCircle()
    {
        var faults = PlumbingRules.Check(Layout.Fixtures, [.. Layout.Connections, Drain("BR", "S-1")]);

        var loop = Assert.Single(faults, fault => fault.Code == "loop");
        Assert.Equal(["BR", "S-1"], loop.At.Select(position => position.Value).Distinct().Order());
        Assert.Equal(loop.At[0], loop.At[^1]);
    }

    [Fact]
    public void Check_SinkThatDrainsNowhere_IsFound() => AssertFault("drain-without-end", [Of("K-3", FixtureKind.GalleySink)], [Supply("PT", "K-3")]);

    [Fact]
    public void Check_LayoutWithoutMast_MustLeadGreyWaterToTheTank()
    {
        var fixtures = Layout.Fixtures.Where(fixture => fixture.Kind != FixtureKind.DrainMast).ToArray();
        var open = Layout.Connections.Where(pipe => pipe.To.Value != "DM").ToArray();

        Assert.Contains(PlumbingRules.Check(fixtures, open), fault => fault.Code == "drain-without-end" && fault.Words.Contains("no mast", StringComparison.Ordinal));
        Assert.Empty(PlumbingRules.Check(fixtures, [.. open, Drain("BR", "WT")]));
    }

    /// <summary>21 CFR 1250.53: no discharge of excrement except at approved servicing areas.</summary>
    [Fact]
    public void Check_ToiletThatWouldEmptyOverboard_IsFound()
    {
        var pipes = Layout.Connections.Where(pipe => pipe.From.Value != "T-A").Append(Drain("T-A", "DM")).ToArray();

        Assert.Contains(PlumbingRules.Check(Layout.Fixtures, pipes), fault => fault.Code == "toilet-overboard");
    }

    [Fact]
    public void Check_MastThatGoesOn_IsFound() => AssertFault("mast-goes-on", add: [Drain("DM", "WT")]);

    [Fact]
    public void Check_BasinWithoutSupply_IsFound() => AssertFault("no-supply", [Of("B-1", FixtureKind.LavatoryBasin)], [Drain("B-1", "BR")]);

    [Fact]
    public void Check_PipeToNowhere_NamesThePosition() => AssertFault("no-such-position", add: [Drain("BR", "XX")]);

    [Fact]
    public void Check_PositionListedTwice_IsFound() => AssertFault("position-twice", [Of("K-1", FixtureKind.GalleySink)]);

    [Fact]
    public void DrainPath_OfASink_RunsToTheMast() =>
        Assert.Equal(["K-1", "S-1", "BR", "DM"], Layout.Plumbing.DrainPath(Sink).Select(fixture => fixture.Position.Value));

    [Fact]
    public void SharesDrainWith_OfASink_IsTheOtherSinkOfTheBranch() =>
        Assert.Equal(["K-2"], Layout.Plumbing.SharesDrainWith(Sink).Select(fixture => fixture.Position.Value));

    private static void AssertFault(string code, IEnumerable<Fixture>? fixtures = null, IEnumerable<Connection>? add = null) =>
        Assert.Contains(PlumbingRules.Check([.. Layout.Fixtures, .. fixtures ?? []], [.. Layout.Connections, .. add ?? []]), fault => fault.Code == code);
}
