using Drainboard.Domain.Fleet;
using Drainboard.Domain.Lavatories;

namespace Drainboard.Domain.Tests.Lavatories;

/// <summary>An operator's own minimum of toilets: its policy, no published number stands behind it.</summary>
public sealed class ToiletMinimumTests
{
    private static readonly ToiletMinimum[] Rules =
    [
        new("", 2, 1, false, true),
        new("W3", 6, 8, false, false),
        new("W3", 10, 7, true, true),
    ];

    [Theory]
    [InlineData("N1", 2.0, 0, 0, null)]
    [InlineData("N1", 2.1, 0, 0, 1)]
    [InlineData("N1", 2.1, 1, 0, null)]
    [InlineData("W3", 6.0, 7, 1, null)]
    [InlineData("W3", 6.5, 7, 1, 8)]
    [InlineData("W3", 6.5, 8, 0, null)]
    [InlineData("W3", 13, 6, 1, 7)]
    [InlineData("W3", 13, 9, 0, 7)]
    [InlineData("W3", 13, 7, 1, 8)]
    public void Rule_ThatASectorBreaks_IsTheOneThatForbidsFirst(string layout, double hours, int inService, int accessible, int? fewest) =>
        Assert.Equal(fewest, ToiletMinimum.Broken(Rules, layout, hours, new ToiletCount(9, inService, 1, accessible))?.Fewest);

    /// <summary>Where no toilet of a layout is marked accessible, nobody knows which is: the rule asks for none.</summary>
    [Fact]
    public void Accessible_IsAskedForWhereALayoutMarksOne()
    {
        ToiletMinimum[] rules = [new("", 0, 0, true, true)];
        Assert.Null(ToiletMinimum.Broken(rules, "N1", 3, new ToiletCount(3, 0, 0, 0)));
        Assert.Equal("an accessible toilet on sectors over 0 h", ToiletMinimum.Broken(rules, "N1", 3, new ToiletCount(3, 3, 1, 0))!.Words);
    }

    [Fact]
    public void Rule_ThatCannotBe_IsRefused()
    {
        Assert.Null(ToiletMinimum.WhyNot(Rules));
        Assert.Equal("minimum-hours", ToiletMinimum.WhyNot([new("", 25, 1, false, true)])!.Code);
        Assert.Equal("minimum-hours", ToiletMinimum.WhyNot([new("", double.NaN, 1, false, true)])!.Code);
        Assert.Equal("minimum-toilets", ToiletMinimum.WhyNot([new("", 3, 0, false, true)])!.Code);
        Assert.Null(ToiletMinimum.WhyNot([new("", 3, 0, true, true)]));
        Assert.Equal("too-many-minimums", ToiletMinimum.WhyNot([.. Enumerable.Repeat(Rules[0], 51)])!.Code);
    }

    [Fact]
    public void Count_HoldsTheAccessibleApart()
    {
        Fixture Toilet(string at, bool accessible) => new(Position.Parse(at), FixtureKind.Toilet, at, "Aft", 90, 20, "", accessible);
        var cabin = new CabinLayout(new LayoutId(Guid.Empty), "X", 1, "X", 100, [Toilet("T-1", false), Toilet("T-2", true), new Fixture(Position.Parse("S-1"), FixtureKind.GalleySink, "Sink", "Aft", 90, 50)], []);
        Assert.Equal(new ToiletCount(2, 2, 1, 1), ToiletCount.Of(cabin, new HashSet<Position> { Position.Parse("S-1") }));
        Assert.Equal(new ToiletCount(2, 1, 1, 0), ToiletCount.Of(cabin, new HashSet<Position> { Position.Parse("T-2") }));
    }
}
