namespace Drainboard.Domain.Deferrals;

/// <summary>In which calendar days are counted; the operator selects it (CS MMEL.105(b)).</summary>
public enum TimeBase
{
    Utc,

    /// <summary>The zone of the station where the deferral is proposed.</summary>
    Local,

    /// <summary>One zone of the operator, wherever the aircraft is.</summary>
    OperatorZone,
}
