namespace Drainboard.Domain.Reliability;

/// <summary>What exposure is counted in.</summary>
public enum ExposureUnit
{
    Sectors,
    FlightHours,
    Days,
}
