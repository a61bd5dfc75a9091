using Drainboard.Domain.Network;
using Drainboard.Web.Features.Deferrals;
using NodaTime;

namespace Drainboard.Web.Features.Network;

/// <summary>How an item stands in the days looked at.</summary>
public enum NetworkStanding
{
    /// <summary>It has lapsed: its aircraft does not depart with it.</summary>
    Lapsed,

    /// <summary>No stay that is planned can take it before it lapses.</summary>
    Stranded,

    /// <summary>The last stay that can take it begins within the days.</summary>
    AtStake,

    /// <summary>A stay after the days can take it as well, or its tail's stays are not planned as far as it runs.</summary>
    CanWait,

    /// <summary>The work is done; its release is awaited.</summary>
    AwaitsRelease,

    /// <summary>Nothing ends its interval, as far as is planned.</summary>
    NoEnd,
}

/// <summary>A stay that can take an item.</summary>
/// <param name="Chance">That it is done there in time.</param>
public sealed record NetworkStay(Guid Turn, VisitView Visit, double Chance);

/// <summary>A running deferral with the stays of the next days that can take it, in order.</summary>
/// <param name="Last">The last stay of all that are planned that can take it in time.</param>
/// <param name="Others">Stays within the days that cannot.</param>
public sealed record NetworkLine(Guid Defect, int Number, string Tail, string Fixture, string BasisCode, Instant? DueAt, NetworkStanding Standing, int NeededMinutes, IReadOnlyList<NetworkStay> Stays, VisitView? Last, int Others);

/// <summary>What a station has for carried items on one of its days.</summary>
public sealed record StationDay(string Station, LocalDate Day, int Minutes);

/// <summary>Every running deferral over the next days.</summary>
/// <param name="Swap">Where two swapped tails meet, in words.</param>
public sealed record NetworkDraft(Instant Now, Instant Until, IReadOnlyList<NetworkLine> Lines, IReadOnlyList<StationDay> Days, string? Swap)
{
    internal NetworkProblem Problem { get; init; } = new([], new Dictionary<string, int>());
}

/// <summary>One item with every stay of the days, and why those that cannot take it cannot.</summary>
public sealed record NetworkItemView(NetworkLine Line, IReadOnlyList<VisitView> Stays);
