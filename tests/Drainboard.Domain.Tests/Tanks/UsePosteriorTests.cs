using Drainboard.Domain.Tanks;
using MathNet.Numerics.Distributions;

namespace Drainboard.Domain.Tests.Tanks;

/// <summary>Forecasts of tanks against reference set 16 (rinse: EP 1 057 943 A2; simulated compound Poisson) and against simulation.</summary>
public sealed class UsePosteriorTests
{
    /// <summary>104.4 uses of 0.4866 ± 0.1 L: mean 50.80 L, sd 5.076 L; above 60 L with 0.0382 by simulation (80,000 draws), 0.0349 by the normal curve.</summary>
    [Fact]
    public void KnownRate_HasTheMomentsAndTheTailOfTheCompoundPoisson()
    {
        var grain = UsePosterior.GrainOf(0.4865882365, 0.1);
        Assert.Equal(5.075686, Math.Sqrt(grain * 50.7998118906), 5);
        var known = UsePosterior.Prior(50.7998118906, 1e5, grain);
        Assert.Equal(50.7998, known.Mean, 3);
        Assert.Equal(0.0381875, known.ChanceAbove(60, 1), 2e-3);
        Assert.Equal(0.9, 1 - known.ChanceAbove(known.Forecast(0.9, 1), 1), 7);
    }

    /// <summary>A rinse of 8 US fl oz: 104.4 uses take 24.70 L, 19 times in 20 no more than 121 of them.</summary>
    [Fact]
    public void Rinses_OfAShortSector_AreThoseOfTheReferenceSet()
    {
        var known = UsePosterior.Prior(24.699811890599996, 1e5, UsePosterior.GrainOf(0.2365882365, 0));
        Assert.Equal(121, Math.Floor(known.Forecast(0.95, 1) / 0.2365882365 + 0.5), 1.0);
    }

    [Fact]
    public void Measured_MovesFromThePriorToWhatWasMeasured()
    {
        var prior = UsePosterior.Prior(0.2, 500, 0.3);
        var after = prior.With(0.4 * 500, 500);
        Assert.Equal(0.3, after.Mean, 9);
        Assert.True(after.Quantile(0.9) - after.Quantile(0.1) < (prior.With(0.4 * 50, 50) is var few ? few.Quantile(0.9) - few.Quantile(0.1) : 0));
        Assert.Equal(0.4, prior.With(0.4 * 1e7, 1e7).Mean, 3);
        Assert.Equal(1, prior.ChanceAbove(-1, 100));
        Assert.Equal(0, prior.ChanceAbove(10, 0));
    }

    /// <summary>Four of five forecasts hold: tails whose rate is drawn from the prior, calibrated on ten services, then forecast over ten sectors. Seeded; 2,000 trials, so 0.8 ± 4 standard errors of 0.009.</summary>
    [Fact]
    public void EightyPercentIntervals_CoverEighty()
    {
        var random = new Random(16);
        var (mean, sd) = (0.25, 0.15);
        var grain = UsePosterior.GrainOf(mean, sd);
        var prior = UsePosterior.Prior(0.2, 50, grain);
        var (inside, dry) = (0, 0);
        const int trials = 2000;
        for (var trial = 0; trial < trials; trial++)
        {
            var rate = Gamma.Sample(random, prior.Shape, prior.PassengerHours) * grain / mean;
            var known = prior;
            for (var service = 0; service < 10; service++)
            {
                known = known.With(Draw(rate * 150), 150);
            }

            var used = Draw(rate * 1500);
            inside += used >= known.Forecast(0.1, 1500) && used <= known.Forecast(0.9, 1500) ? 1 : 0;
            dry += used > known.Forecast(0.9, 1500) ? 1 : 0;
        }

        Assert.InRange(inside / (double)trials, 0.765, 0.835);
        Assert.InRange(dry / (double)trials, 0.07, 0.13);

        // Draws of gamma-distributed litres with the same mean and spread.
        double Draw(double draws)
        {
            var count = draws > 0 ? Poisson.Sample(random, draws) : 0;
            var shape = mean * mean / (sd * sd);
            return count == 0 ? 0 : Gamma.Sample(random, shape * count, shape / mean);
        }
    }

    [Fact]
    public void Outlook_OfBothTanks_RunsTheRightWay()
    {
        var use = UsePosterior.Prior(0.2, 1e6, 0.3);
        var water = TankOutlook.Potable(use, 200, 200, 500);
        Assert.Equal(100, water.Likely, 6);
        Assert.True(water.Low < 100 && water.High > 100 && water.Chance < 1e-6);
        Assert.True(TankOutlook.Potable(use, 200, 100, 500).Chance is > 0.4 and < 0.6);
        Assert.Equal(200, TankOutlook.Potable(use, 200, 320, 500).Likely);
        var waste = TankOutlook.Waste(use, 170, 10, 500);
        Assert.Equal(110, waste.Likely, 6);
        Assert.True(TankOutlook.Waste(use, 110, 10, 500).Chance is > 0.4 and < 0.6);
        Assert.Equal(50, TankOutlook.Potable(use.Times(0.5), 200, 100, 500).Likely, 6);
    }
}
