using Drainboard.Domain.Fleet;
using Drainboard.Domain.TurnFit;
using NodaTime;

namespace Drainboard.Domain.Turns;

/// <summary>
/// One stay of a tail at a station, from on blocks (included) to off blocks (excluded). Planned times are the newest
/// estimate; the actual ones are null until they happen, and rule once they are there. Known outside by <see cref="Key"/>.
/// </summary>
public sealed class Turn
{
    private Turn()
    {
    }

    public Turn(TurnId id, string key, TailId tail, StationCode station, TurnTimes times)
    {
        (Id, Key) = (id, key);
        Set(tail, station, times);
    }

    public TurnId Id { get; private set; }

    public string Key { get; private set; } = "";

    public TailId Tail { get; private set; }

    public StationCode Station { get; private set; }

    public string Stand { get; private set; } = "";

    public Instant EstimatedArrival { get; private set; }

    public Instant EstimatedDeparture { get; private set; }

    public Instant? OnBlocks { get; private set; }

    public Instant? OffBlocks { get; private set; }

    /// <summary>How often it went off blocks and came back: a return to gate opens the stay again.</summary>
    public int Returns { get; private set; }

    /// <summary>On blocks and not off again by the estimate: it stands longer than planned.</summary>
    public bool IsOverdue(Instant now) => OnBlocks is not null && OffBlocks is null && EstimatedDeparture <= now && now < EstimatedDeparture + Whereabouts.LongestDelay;

    /// <summary>Whether the stay is over: off blocks, or by the estimate where nobody told that it is still here.</summary>
    public bool IsOver(Instant now) => DepartsAt <= now && !IsOverdue(now);

    public Instant ArrivesAt => OnBlocks ?? EstimatedArrival;

    public Instant DepartsAt => OffBlocks ?? EstimatedDeparture;

    /// <summary>What is known of this stay's own windows; of an activity that is not in it, the usual one is assumed.</summary>
    public IReadOnlyList<AccessBlock> Windows { get; private set; } = [];

    public long Version { get; private set; }

    /// <summary>Takes the values of an import; answers whether anything differs.</summary>
    public bool Set(TailId tail, StationCode station, TurnTimes times)
    {
        Returns += OffBlocks is not null && times.OffBlocks is null && OnBlocks is not null ? 1 : 0;
        var same = (Tail, Station, Stand, EstimatedArrival, EstimatedDeparture, OnBlocks, OffBlocks) == (tail, station, times.Stand, times.EstimatedArrival, times.EstimatedDeparture, times.OnBlocks, times.OffBlocks) && (times.Windows is null || Windows.SequenceEqual(times.Windows));
        (Tail, Station, Stand) = (tail, station, times.Stand);
        (EstimatedArrival, EstimatedDeparture, OnBlocks, OffBlocks) = (times.EstimatedArrival, times.EstimatedDeparture, times.OnBlocks, times.OffBlocks);
        Windows = times.Windows ?? Windows;
        return !same;
    }
}
