using NodaTime;

namespace Drainboard.Domain.PotableWater;

/// <summary>Something a case asked for that was done, by hand: a restriction, a notice, a report.</summary>
public sealed record WaterStep(WaterAct Act, Instant At, string ByName);
