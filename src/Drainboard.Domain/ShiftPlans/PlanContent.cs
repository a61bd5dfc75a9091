using NodaTime;

namespace Drainboard.Domain.ShiftPlans;

public sealed record PlannedPerson(Guid Person, string Name, Instant From, Instant To);

/// <param name="Minutes">What the plan counts on, with the chance that the lead chose.</param>
public sealed record PlannedItem(Guid Defect, int Number, string Tail, string Stand, string Fixture, Guid Person, Instant Start, int Minutes, int Weight, bool Pinned)
{
    public Instant End => Start + Duration.FromMinutes(Minutes);
}

public sealed record LeftItem(Guid Defect, string Tail, string Fixture, string Why);

/// <summary>The chance that everything planned on a tail is done in its window.</summary>
public sealed record HeldTurn(string Tail, Instant Departs, double Chance);

/// <summary>A plan as it was given out.</summary>
public sealed record PlanContent(IReadOnlyList<PlannedPerson> People, IReadOnlyList<PlannedItem> Items, IReadOnlyList<LeftItem> Left, IReadOnlyList<HeldTurn> Held, int Objective, double Chance);
