using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>One condition of a deferral, and who did it when; both null until it is done.</summary>
public sealed record ConditionDone(ConditionKind Kind, string Words, string? By, Instant? At)
{
    public bool IsDone => At is not null;
}
