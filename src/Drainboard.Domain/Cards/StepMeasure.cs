using System.Globalization;

namespace Drainboard.Domain.Cards;

/// <summary>What a measuring step reads: the unit, and the limits that it must lie within, both included; null where there is none on that side.</summary>
public sealed record StepMeasure(string Unit, decimal? Low, decimal? High)
{
    public string LimitWords => (Low, High) switch
    {
        ({ } low, { } high) => $"{Say(low)} to {Say(high)} {Unit}",
        ({ } low, null) => $"at least {Say(low)} {Unit}",
        (null, { } high) => $"at most {Say(high)} {Unit}",
        _ => $"in {Unit}, no limit",
    };

    public bool IsWithin(decimal value) => value >= (Low ?? decimal.MinValue) && value <= (High ?? decimal.MaxValue);

    public string Words(decimal value) => $"{Say(value)} {Unit}";

    private static string Say(decimal value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
