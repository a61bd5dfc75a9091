namespace Drainboard.Domain.Recurrence;

/// <summary>What a repeat rule's window is measured in.</summary>
public enum RepeatWindow
{
    Days,
    Sectors,
}
