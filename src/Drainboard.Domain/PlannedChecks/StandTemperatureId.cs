namespace Drainboard.Domain.PlannedChecks;

/// <summary>Identity of a temperature that was told. Equality by value; no order; the default is none.</summary>
public readonly record struct StandTemperatureId(Guid Value) : IId<StandTemperatureId>
{
    public static StandTemperatureId From(Guid value) => new(value);
}
