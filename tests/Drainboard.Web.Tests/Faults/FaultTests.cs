using Drainboard.Testing.Faults;

namespace Drainboard.Web.Tests.Faults;

/// <summary>The short form of the campaigns of faults; the long form is in docs/reliability.md.</summary>
public sealed class FaultTests
{
    public static TheoryData<string> Names => [.. Stages.All.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Fault_AtRandomMoments_LosesNothingThatWasAcknowledged(string name)
    {
        await using var stage = Stages.All[name]();
        var (counts, faults) = await new FaultCampaign(stage, strikes: 3, seed: 20261127).RunAsync();
        Assert.Empty(faults);
        Assert.True(counts.Reports > 10 && counts.Operations > 10, $"{counts}: too little was written to say anything.");
    }
}
