namespace Drainboard.Domain.Deferrals;

/// <summary>When the first counted day begins: 00:00, or 00:01 as one authority writes it (HKAR-MMEL/MEL section 2, paragraph 5).</summary>
public enum CalendarStart
{
    Midnight,
    OneMinutePast,
}
