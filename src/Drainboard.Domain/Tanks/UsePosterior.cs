using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace Drainboard.Domain.Tanks;

/// <summary>
/// Litres that go through a tank in a passenger hour, as far as is known: a prior, and what was measured between services. Use comes in draws, and
/// litres are counted in grains of (mean² + sd²) / mean of one draw, so that a scaled Poisson count has the mean and variance of the
/// compound Poisson (reference set 16); its rate is gamma-distributed, and a forecast is negative binomial, exactly.
/// </summary>
/// <param name="Shape">Grains known of.</param>
/// <param name="PassengerHours">Passenger hours known of.</param>
/// <param name="Grain">Litres.</param>
public sealed record UsePosterior(double Shape, double PassengerHours, double Grain)
{
    /// <param name="perPassengerHour">Litres, above 0.</param>
    /// <param name="worth">How many passenger hours of measuring the prior counts for, above 0.</param>
    public static UsePosterior Prior(double perPassengerHour, double worth, double grain) => new(perPassengerHour * worth / grain, worth, grain);

    /// <summary>Litres of one draw's grain: the variance of a compound Poisson over its mean.</summary>
    public static double GrainOf(double meanLitres, double sdLitres) => ((meanLitres * meanLitres) + (sdLitres * sdLitres)) / meanLitres;

    /// <summary>Litres per passenger hour, best guess.</summary>
    public double Mean => Grain * Shape / PassengerHours;

    /// <summary>Litres per passenger hour below which it lies with this probability.</summary>
    public double Quantile(double probability) => Grain * Gamma.InvCDF(Shape, PassengerHours, probability);

    /// <summary>After so many litres were measured over so many passenger hours.</summary>
    public UsePosterior With(double litres, double passengerHours) => new(Shape + (litres / Grain), PassengerHours + passengerHours, Grain);

    /// <summary>The same with a part of it shut off.</summary>
    /// <param name="factor">The share that goes on, above 0 up to 1.</param>
    public UsePosterior Times(double factor) => this with { Shape = Shape * factor };

    /// <summary>The chance that over so many passenger hours more than this is used.</summary>
    public double ChanceAbove(double litres, double passengerHours) =>
        litres < 0 ? 1 : passengerHours <= 0 ? 0 : SpecialFunctions.BetaRegularized((litres / Grain) + 0.5, Shape, passengerHours / (PassengerHours + passengerHours));

    /// <summary>Litres that are not exceeded with this probability.</summary>
    public double Forecast(double probability, double passengerHours)
    {
        var (low, high) = (0.0, (Mean * passengerHours) + Grain);
        while (ChanceAbove(high, passengerHours) > 1 - probability)
        {
            high *= 2;
        }

        for (var step = 0; step < 60; step++)
        {
            var middle = (low + high) / 2;
            (low, high) = ChanceAbove(middle, passengerHours) > 1 - probability ? (middle, high) : (low, middle);
        }

        return high;
    }
}
