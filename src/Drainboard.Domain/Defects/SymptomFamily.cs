namespace Drainboard.Domain.Defects;

/// <summary>Symptoms that count as like one another when write-ups are compared.</summary>
public enum SymptomFamily
{
    Draining,
    Supply,
    Quality,
    Flushing,
    Leaking,
    Insects,
    Other,
}
