namespace Drainboard.Domain.Deferrals;

/// <summary>Which of a defect's four times starts the count. The presets take the log entry: the day of discovery is the day the malfunction was recorded (CS MMEL.105(d)).</summary>
public enum ClockStart
{
    /// <summary>When somebody saw it.</summary>
    Seen,

    /// <summary>When the report was saved on a device; where that is not known, when it was received.</summary>
    Saved,

    /// <summary>The earliest entry in an aircraft log, cabin log included; while there is none, when it was received.</summary>
    Logged,

    /// <summary>When this program received it.</summary>
    Received,
}
