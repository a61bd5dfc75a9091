namespace Drainboard.Domain.Deferrals;

/// <summary>
/// What is held against the due time of a flight. No regulator text was found that decides whether an interval may run out in the
/// air; ORO.MLR.105(e)(3) allows no operation after expiry, so the strict reading is the default of every preset.
/// </summary>
public enum ExpiryTest
{
    /// <summary>A flight that departs before the due time may arrive after it.</summary>
    Departure,

    /// <summary>A flight must have arrived by the due time.</summary>
    Arrival,
}
