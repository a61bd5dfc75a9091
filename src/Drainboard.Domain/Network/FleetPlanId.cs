namespace Drainboard.Domain.Network;

/// <summary>Identity of a plan of the network. Equality by value; no order; the default is none.</summary>
public readonly record struct FleetPlanId(Guid Value) : IId<FleetPlanId>
{
    /// <summary>An installation has one plan, so two that are given out at once meet.</summary>
    public static FleetPlanId TheOne { get; } = new(new Guid("00000000-0000-7000-8000-000000000001"));

    public static FleetPlanId From(Guid value) => new(value);
}
