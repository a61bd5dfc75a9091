using Drainboard.Domain.ShiftPlans;
using NodaTime;

namespace Drainboard.Web.Features.ShiftPlans;

/// <summary>Who does one item, and when.</summary>
public sealed record AssignedItem(Guid Defect, Guid Person, Instant Start);

/// <summary>A plan that was worked out and not given out yet.</summary>
/// <param name="Solver">Null where the solver made it, else why a plan without one serves.</param>
public sealed record SolvedShift(PlanContent Content, int Objective, int Bound, double Gap, bool Proven, string? Solver);

/// <summary>How far a planned item has come.</summary>
public sealed record PlannedProgress(Guid Defect, string State, string? HeldBy);

/// <summary>The plan that was given out.</summary>
public sealed record ShiftPlanView(Guid Id, string Station, Instant From, Instant To, PlanContent Content, IReadOnlyList<PlannedProgress> Progress, string GivenBy, Instant GivenAt, long Version);
