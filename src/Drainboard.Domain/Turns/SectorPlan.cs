using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>The content of a sector: on block is after off block.</summary>
public sealed record SectorPlan(StationCode From, StationCode To, Instant OffBlock, Instant OnBlock, int FlightMinutes, bool Flown);
