using Drainboard.Domain.Fleet;
using Drainboard.Domain.Lavatories;

namespace Drainboard.Domain.Tests.Lavatories;

/// <summary>Waiting by class: each class is the same finite-source queue as the whole cabin (held against reference set 10), with its own seats and toilets.</summary>
public sealed class ClassWaitingTests
{
    private static readonly CabinClass[] Three = [new("Front", 30, 0, 20), new("Middle", 70, 20, 60), new("Rear", 200, 60, 100)];

    [Fact]
    public void EachClass_IsAQueueOfItsOwn()
    {
        var all = ClassWaiting.Of(Cabin(), new HashSet<Position>(), LavatoryTerms.Usual);

        Assert.Equal([("Front", 1, 30), ("Middle", 2, 70), ("Rear", 4, 200)], all.Select(one => (one.Name, one.InService, one.Using)));
        Assert.Equal(CabinWaiting.Of(200, 4, LavatoryTerms.Usual)!.Peak.ArrivingWaitProbability, all[2].Waiting!.Peak.ArrivingWaitProbability, 12);
    }

    /// <summary>The front has none left: its 30 go to the middle, the nearest, and 100 wait there for two. Nobody is counted twice or forgotten.</summary>
    [Fact]
    public void WithoutAToilet_AClassGoesToTheNearestThatHasOne()
    {
        var all = ClassWaiting.Of(Cabin(), new HashSet<Position> { Position.Parse("T-1") }, LavatoryTerms.Usual);

        Assert.Equal([("Middle", 0, null), (null, 100, 100), (null, 200, 200)], all.Select(one => (one.GoTo, one.Using, one.Waiting is null ? (int?)null : one.Using)));
        var none = ClassWaiting.Of(Cabin(), Cabin().Fixtures.Select(toilet => toilet.Position).ToHashSet(), LavatoryTerms.Usual);
        Assert.All(none, one => Assert.Equal((null, 0, null), (one.GoTo, one.Using, one.Waiting)));
        Assert.Equal(300, all.Sum(one => one.Using));
    }

    /// <summary>A toilet on the line between two stretches belongs to the one behind; one in no stretch to the nearest.</summary>
    [Fact]
    public void Toilets_BelongToTheStretchThatTheyAreIn()
    {
        CabinClass[] gap = [new("Front", 30, 0, 10), new("Rear", 270, 60, 100)];

        Assert.Equal([2, 5], ClassWaiting.Of(Cabin(gap), new HashSet<Position>(), LavatoryTerms.Usual).Select(one => one.Installed));
        Assert.Empty(ClassWaiting.Of(Cabin([]), new HashSet<Position>(), LavatoryTerms.Usual));
    }

    [Fact]
    public void Classes_ThatCannotBe_AreToldInWords()
    {
        Assert.Empty(CabinClass.Faults(Three, 300));
        Assert.Empty(CabinClass.Faults([], 300));
        Assert.Contains("310 seats together and the layout 300", Assert.Single(CabinClass.Faults([.. Three[..2], Three[2] with { Seats = 210 }], 300)), StringComparison.Ordinal);
        Assert.Contains("same stretch", Assert.Single(CabinClass.Faults([.. Three[..2], Three[2] with { From = 59 }], 300)), StringComparison.Ordinal);
        Assert.Contains("twice", Assert.Single(CabinClass.Faults([.. Three[..2], Three[2] with { Name = "front" }], 300)), StringComparison.Ordinal);
        Assert.Contains("the nose first", Assert.Single(CabinClass.Faults([new("Front", 300, 50, 50)], 300)), StringComparison.Ordinal);
    }

    private static CabinLayout Cabin(CabinClass[]? classes = null) =>
        new(new LayoutId(Guid.Empty), "X", 1, "X", 300, [Toilet(1, 8), Toilet(2, 20), Toilet(3, 40), Toilet(4, 60), Toilet(5, 62), Toilet(6, 90), Toilet(7, 100)], [], classes ?? Three);

    private static Fixture Toilet(int number, int along) => new(Position.Parse($"T-{number}"), FixtureKind.Toilet, $"Toilet {number}", "Cabin", along, 50);
}
