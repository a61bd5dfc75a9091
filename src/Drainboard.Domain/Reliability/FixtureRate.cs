namespace Drainboard.Domain.Reliability;

/// <summary>A fixture against the rest of its fleet.</summary>
/// <param name="Rate">Events over exposure; never what it is ranked by.</param>
/// <param name="PWorse">One-sided, against the rest of the fleet without it.</param>
/// <param name="PAdjusted">Over everything that was tested with it (Benjamini and Hochberg).</param>
/// <param name="PosteriorMean">Drawn toward the fleet; the fixture's own rate where the fleet has no spread to draw by.</param>
/// <param name="Posterior05">The rate that its true one exceeds with a chance of 95 %: what it is ranked by.</param>
public sealed record FixtureRate(FixtureCount Count, double Rate, Bounds Limits95, double PWorse, double PAdjusted, double PosteriorMean, double Posterior05, bool IsFlagged);
