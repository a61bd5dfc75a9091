namespace Drainboard.Domain.PlannedChecks;

/// <summary>Identity of a check that was done, made on the device. Equality by value; no order; the default is none.</summary>
public readonly record struct CheckDoneId(Guid Value) : IId<CheckDoneId>
{
    public static CheckDoneId From(Guid value) => new(value);
}
