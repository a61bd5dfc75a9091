namespace Drainboard.Domain.Deferrals;

/// <summary>In what a limit counts.</summary>
public enum ClockUnit
{
    CalendarDays,

    /// <summary>Calendar days on which at least one flight of the aircraft is initiated (FAA PL-25, definition of flight day).</summary>
    FlightDays,
    FlightHours,
    FlightCycles,

    /// <summary>An instant written in the item's remarks.</summary>
    FixedDate,
}
