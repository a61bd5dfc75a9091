namespace Drainboard.Domain.Deferrals;

/// <summary>The words of a <see cref="ClockUnit"/>.</summary>
public static class ClockUnits
{
    public static string Words(this ClockUnit unit) => unit switch
    {
        ClockUnit.CalendarDays => "calendar days",
        ClockUnit.FlightDays => "flight days",
        ClockUnit.FlightHours => "flight hours",
        ClockUnit.FlightCycles => "flight cycles",
        ClockUnit.FixedDate => "fixed date",
    };

    /// <summary>Whether the tail's sectors are needed to count it.</summary>
    public static bool NeedsSectors(this ClockUnit unit) => unit is ClockUnit.FlightDays or ClockUnit.FlightHours or ClockUnit.FlightCycles;
}
