using Drainboard.Domain.Network;
using NodaTime;

namespace Drainboard.Web.Features.Network;

/// <summary>Which stay takes one item.</summary>
public sealed record PlannedFor(Guid Defect, Guid Turn);

/// <param name="Planned">Of <paramref name="Minutes"/> that the station has on this day.</param>
public sealed record StationLoad(string Station, LocalDate Day, int Minutes, int Planned);

/// <summary>The same without what was asked about.</summary>
/// <param name="IsFewest">No plan without it has fewer late.</param>
/// <param name="Newly">Late only with it.</param>
/// <param name="NoLonger">Late only without it.</param>
public sealed record WithoutIt(int Late, bool IsFewest, IReadOnlyList<FleetPlanLate> Newly, IReadOnlyList<FleetPlanLate> NoLonger);

/// <summary>A plan of the network that was worked out and not given out yet.</summary>
/// <param name="Solver">Null where the solver made it, else why a plan without one serves.</param>
/// <param name="Without">Null where nothing is asked about.</param>
public sealed record SolvedNetwork(FleetPlanContent Content, Instant Until, int Points, int MostPoints, bool IsFewest, bool Proven, IReadOnlyList<StationLoad> Load, string? Swap, WithoutIt? Without, string? Solver);

/// <summary>How far a planned item has come.</summary>
public enum PlannedState
{
    Ahead,
    Done,

    /// <summary>The stay is over and the item is still carried.</summary>
    Missed,
}

public sealed record FleetPlanProgress(Guid Defect, PlannedState State);

/// <summary>The plan that was given out.</summary>
public sealed record FleetPlanView(Instant Until, FleetPlanContent Content, IReadOnlyList<FleetPlanProgress> Progress, string GivenBy, Instant GivenAt, long Version);
