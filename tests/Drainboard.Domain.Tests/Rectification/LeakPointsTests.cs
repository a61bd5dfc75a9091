using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.Rectification;

public sealed class LeakPointsTests
{
    /// <summary>Every joint between the fixture and the place that was opened, and nothing beyond it (common practice, no source).</summary>
    [Fact]
    public void For_WorkAtTheBranch_NamesTheWayToItAndTheFloor()
    {
        var points = LeakPoints.For(Cabin.Layout, Cabin.Sink, Position.Parse("BR"));

        Assert.Contains(points, point => point.StartsWith("Drain union and trap", StringComparison.Ordinal));
        Assert.Contains(points, point => point.Contains("hand tight", StringComparison.Ordinal));
        Assert.Contains(points, point => point.Contains("Fixture BR", StringComparison.Ordinal));
        Assert.DoesNotContain(points, point => point.Contains("Fixture DM", StringComparison.Ordinal));
        Assert.StartsWith("The floor", points[^1], StringComparison.Ordinal);
    }

    [Fact]
    public void For_WorkBesideTheDrain_NamesThatPlaceToo() =>
        Assert.Contains(LeakPoints.For(Cabin.Layout, Cabin.Sink, Position.Parse("PT")), point => point.Contains("Fixture PT", StringComparison.Ordinal));

    [Fact]
    public void RecordChecks_PassedWithAWetPoint_IsRefused_AndFailedWithItIsKept()
    {
        var defect = Cabin.Open();
        Cabin.Done(Cabin.RecordWork(defect, out var work, leak: null));
        var points = new[] { new CheckPoint("Cap", true), new CheckPoint("Union", false) };

        Assert.Equal("wet-point", Cabin.Refused(work!.RecordChecks(defect, null, new Check(true, "", "Tech", Cabin.Now, points))).Code);
        var fact = Cabin.Done(work.RecordChecks(defect, null, new Check(false, "", "Tech", Cabin.Now, points)));
        Assert.Contains("Union, wet", fact.Words, StringComparison.Ordinal);
    }
}
