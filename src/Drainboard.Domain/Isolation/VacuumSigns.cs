namespace Drainboard.Domain.Isolation;

/// <summary>What else is known about a tank's toilets; null is not known.</summary>
/// <param name="ReadsFull">The level indication says full.</param>
/// <param name="Emptied">It was serviced at this stay.</param>
public sealed record VacuumSigns(VacuumRegime Regime = VacuumRegime.NotSaid, bool? ReadsFull = null, bool? Emptied = null)
{
    public static VacuumSigns None { get; } = new();
}
