using NodaTime;

namespace Drainboard.Web.Features.Network;

/// <summary>A station that takes nothing from one time to another.</summary>
/// <param name="From">Null: from now; <paramref name="To"/> null: for as long as is looked ahead.</param>
public sealed record ClosedStation(string Station, Instant? From = null, Instant? To = null);

/// <param name="Minutes">Technician minutes a day for carried items, instead of the station's own.</param>
public sealed record StationMinutes(string Station, int Minutes);

/// <summary>Two tails that fly each other's lines from where they first meet.</summary>
public sealed record SwappedTails(string One, string Other);

/// <summary>What is to be planned, and what if.</summary>
/// <param name="Days">So far is looked ahead, 1 to 14.</param>
/// <param name="KeepPlan">A plan that was given out is changed as little as can be.</param>
public sealed record NetworkWish(int Days = 7, IReadOnlyList<ClosedStation>? Closed = null, IReadOnlyList<StationMinutes>? Minutes = null, SwappedTails? Swap = null, bool KeepPlan = true)
{
    public bool IsWhatIf => Closed is { Count: > 0 } || Minutes is { Count: > 0 } || Swap is not null;
}
