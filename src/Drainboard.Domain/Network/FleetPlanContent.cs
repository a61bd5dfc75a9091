using NodaTime;

namespace Drainboard.Domain.Network;

/// <summary>The stay that an item is planned for.</summary>
/// <param name="Minutes">What the plan counts on, papers included.</param>
/// <param name="Spares">Later stays that could still take it.</param>
public sealed record FleetPlanItem(Guid Defect, int Number, string Tail, string Fixture, Guid Turn, string Station, string Zone, Instant ArrivesAt, Instant DepartsAt, int Minutes, double Chance, int Spares);

public sealed record FleetPlanLate(Guid Defect, string Tail, string Fixture, string Why);

/// <summary>A plan as it was given out.</summary>
/// <param name="FewestLate">No plan had fewer late, as far as was known.</param>
public sealed record FleetPlanContent(IReadOnlyList<FleetPlanItem> Items, IReadOnlyList<FleetPlanLate> Late, int FewestLate);
