using Drainboard.Domain.Reliability;
using MathNet.Numerics;

namespace Drainboard.Domain.Tests.Reliability;

public sealed class RateRatioTests
{
    /// <summary>By the definition of Clopper and Pearson (1934): at each limit the events seen have just half of what is left to chance.</summary>
    [Fact]
    public void Limits_OfAnySize_HaveTheirTails()
    {
        var dice = new Random(20261126);
        for (var run = 0; run < 3000; run++)
        {
            var (events, other) = (dice.Next(dice.Next(2) == 0 ? 5 : 3000), dice.Next(dice.Next(2) == 0 ? 5 : 20_000));
            var (exposure, rest) = (Math.Pow(10, (dice.NextDouble() * 6) - 2), Math.Pow(10, (dice.NextDouble() * 6) - 2));
            var ratio = RateRatio.Of(events, exposure, other, rest);
            if (events > 0)
            {
                var share = ratio.Limits.Low * exposure / (rest + (ratio.Limits.Low * exposure));
                Assert.InRange(SpecialFunctions.BetaRegularized(events, other + 1, share), 0.025 * (1 - 1e-6), 0.025 * (1 + 1e-6));
            }

            if (other > 0)
            {
                var share = rest / (rest + (ratio.Limits.High * exposure));
                Assert.InRange(SpecialFunctions.BetaRegularized(other, events + 1, share), 0.025 * (1 - 1e-6), 0.025 * (1 + 1e-6));
            }
        }
    }
}
