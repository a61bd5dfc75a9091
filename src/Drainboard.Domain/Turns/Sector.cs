using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>
/// One flight of a tail, planned or flown, from off block to on block. <see cref="FlightMinutes"/> is time in the air, or the
/// block time where nobody gave it. Known outside by <see cref="Key"/>.
/// </summary>
public sealed class Sector
{
    private Sector()
    {
    }

    public Sector(SectorId id, string key, TailId tail, SectorPlan plan)
    {
        (Id, Key) = (id, key);
        Set(tail, plan);
    }

    public SectorId Id { get; private set; }

    public string Key { get; private set; } = "";

    public TailId Tail { get; private set; }

    public StationCode From { get; private set; }

    public StationCode To { get; private set; }

    public Instant OffBlock { get; private set; }

    public Instant OnBlock { get; private set; }

    public int FlightMinutes { get; private set; }

    public bool Flown { get; private set; }

    public long Version { get; private set; }

    /// <summary>Takes the values of an import; answers whether anything differs.</summary>
    public bool Set(TailId tail, SectorPlan plan)
    {
        var same = (Tail, From, To, OffBlock, OnBlock, FlightMinutes, Flown) == (tail, plan.From, plan.To, plan.OffBlock, plan.OnBlock, plan.FlightMinutes, plan.Flown);
        (Tail, From, To, OffBlock, OnBlock, FlightMinutes, Flown) = (tail, plan.From, plan.To, plan.OffBlock, plan.OnBlock, plan.FlightMinutes, plan.Flown);
        return !same;
    }
}
