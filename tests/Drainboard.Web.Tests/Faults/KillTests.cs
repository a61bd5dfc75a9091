using Drainboard.Testing.Faults;

namespace Drainboard.Web.Tests.Faults;

/// <summary>The short form of the campaign of kills; the long form is in docs/reliability.md.</summary>
public sealed class KillTests
{
    [Theory]
    [InlineData(Victim.EmbeddedProcess)]
    [InlineData(Victim.WebProcess)]
    [InlineData(Victim.Postgres)]
    public async Task Killed_AtRandomMoments_NothingAcknowledgedIsLost(Victim victim)
    {
        var (counts, faults) = await new KillCampaign(victim, kills: 4, seed: 20261127).RunAsync();
        Assert.Empty(faults);
        Assert.True(counts.Reports > 10 && counts.Operations > 10, $"{counts}: too little was written to say anything.");
    }
}
