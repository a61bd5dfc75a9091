namespace Drainboard.Domain.Deferrals;

/// <summary>Who usually does a condition of an item: (M) maintenance or (O) operations. Whoever does it, the operator answers (GM1 ORO.MLR.105(g)).</summary>
public enum ConditionKind
{
    Maintenance,
    Operational,
}
