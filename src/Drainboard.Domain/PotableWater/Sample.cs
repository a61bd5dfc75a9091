using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.PotableWater;

/// <summary>One bottle: the tap it is from, and what the laboratory told.</summary>
/// <param name="AnalysisStartedAt">Null while nothing is told.</param>
/// <param name="Coliform">Total coliforms present; null while nothing is told.</param>
/// <param name="EColi">E. coli present; null while nothing is told.</param>
public sealed record Sample(Position Tap, Instant? AnalysisStartedAt = null, bool? Coliform = null, bool? EColi = null)
{
    public bool IsTold => Coliform is not null;
}
