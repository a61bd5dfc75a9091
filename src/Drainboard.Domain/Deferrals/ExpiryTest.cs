namespace Drainboard.Domain.Deferrals;

/// <summary>What is held against the due time: the departure of a sector, or its arrival. No regulator text was found that decides it; the default is the strict one.</summary>
public enum ExpiryTest
{
    Departure,
    Arrival,
}
