namespace Drainboard.Domain.Deferrals;

/// <summary>In which calendar days are counted: UTC, or the zone of the station where the defect was recorded.</summary>
public enum TimeBase
{
    Utc,
    Local,
}
