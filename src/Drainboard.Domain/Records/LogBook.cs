namespace Drainboard.Domain.Records;

/// <summary>The two logs of an aircraft; both start clocks.</summary>
public enum LogBook
{
    Cabin,
    Technical,
}
