namespace Drainboard.Domain.Tanks;

/// <summary>What a tank will hold: from its last service over the passenger hours since and ahead. All of them share one unknown rate, so they are counted together.</summary>
public static class TankOutlook
{
    private const double Lower = 0.1;
    private const double Upper = 0.9;

    /// <param name="capacity">Usable litres.</param>
    /// <param name="takenOn">Litres since it was full: the capacity, and what was taken on after.</param>
    /// <param name="passengerHours">Since it was full, by the end of the sector.</param>
    public static TankPoint Potable(UsePosterior use, double capacity, double takenOn, double passengerHours) => new(
        Math.Clamp(takenOn - (use.Mean * passengerHours), 0, capacity),
        Math.Clamp(takenOn - use.Forecast(Upper, passengerHours), 0, capacity),
        Math.Clamp(takenOn - use.Forecast(Lower, passengerHours), 0, capacity),
        use.ChanceAbove(takenOn, passengerHours));

    /// <param name="capacity">Usable litres.</param>
    /// <param name="startLitres">The pre-charge.</param>
    public static TankPoint Waste(UsePosterior use, double capacity, double startLitres, double passengerHours) => new(
        Math.Min(capacity, startLitres + (use.Mean * passengerHours)),
        Math.Min(capacity, startLitres + use.Forecast(Lower, passengerHours)),
        Math.Min(capacity, startLitres + use.Forecast(Upper, passengerHours)),
        use.ChanceAbove(capacity - startLitres, passengerHours));
}
